#include "desk/Autosave.h"
#include "desk/CrashNote.h"
#include "window/Bench.h"

#include <ctime>
#include <filesystem>

namespace shutterbeat::window
{
namespace
{
constexpr std::int64_t second = 1'000'000'000;
constexpr std::int64_t restBefore = 2 * second;   // nothing is kept while edits follow each other quickly ...
constexpr std::int64_t mostBetween = 10 * second; // ... but no longer than this

std::string timeOfDay (std::int64_t seconds)
{
    const std::time_t at = seconds;
    std::tm local{};
    ::localtime_r (&at, &local);
    char text[32];
    std::strftime (text, sizeof text, "%Y-%m-%d %H:%M", &local);
    return text;
}
} // namespace

void Bench::keepEdits()
{
    if (! history || open.path.empty() || keeping)
        return;
    const auto now = machine.nanoseconds();
    if (now < keptNext)
        return;
    keptNext = now + second / 2;
    if (! dirty())
    {
        keptChanged = 0;
        if (std::exchange (keptSomething, false))
        {
            desk::dropAutosave (open.path);
            desk::nameAutosave ("");
        }
        return;
    }
    if (! bookKept || ! (history->book() == *bookKept))
    {
        if (! bookSeen || ! (history->book() == *bookSeen))
        {
            bookSeen = history->book();
            keptChanged = now;
            if (keptSince == 0)
                keptSince = now;
        }
        if (now - keptChanged < restBefore && now - keptSince < mostBetween)
            return;
        keeping = true;
        keptSince = 0;
        bookKept = history->book();
        const auto outcome = std::make_shared<std::optional<Result<Done>>>();
        runner.run ([outcome, path = open.path, book = *bookKept] { outcome->emplace (desk::autosave (path, book)); },
                    [this, outcome]
                    {
                        keeping = false;
                        keptSomething = true;
                        desk::nameAutosave (desk::autosavePath (open.path));
                        if (! (*outcome)->ok() && ! std::exchange (keptFailed, true))
                            complain ((*outcome)->error().text());
                    });
    }
}

void Bench::dropKept()
{
    desk::dropAutosave (open.path);
    bookKept.reset();
    keptSomething = false;
}

/// Edits that a program kept before it ended without saving them.
void Bench::offerKept (desk::KeptEdits found)
{
    const auto shared = std::make_shared<desk::KeptEdits> (std::move (found));
    const auto name = std::filesystem::path (open.path).filename().string();
    ask ({ "Unsaved edits were kept",
           "The program ended on " + timeOfDay (shared->seconds) + " before " + name
               + " was saved. What was done until then is kept.",
           { { "take", "Take them up; Ctrl+Z goes back",
               [this, shared]
               {
                   did ("take up unsaved edits", shared->book, {});
                   std::error_code ignored;
                   // They are this window's own from now on, and kept again while they are not saved.
                   std::filesystem::remove (shared->file, ignored);
                   say ("Unsaved edits of " + timeOfDay (shared->seconds) + " are taken up. Ctrl+S saves them.");
               } },
             { "beside", "Put them beside it as a book of their own",
               [this, shared]
               {
                   const auto beside = desk::keptBeside (*shared, open.path);
                   beside ? say ("They lie in " + *beside + ".") : complain (beside.error().text());
               } },
             { "later", "Leave them; ask again next time", {} } } });
}
} // namespace shutterbeat::window
