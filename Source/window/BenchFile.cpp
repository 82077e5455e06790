#include "desk/FindFilms.h"
#include "spotting/Edit.h"
#include "window/Bench.h"

#include <algorithm>
#include <filesystem>
#include <utility>

namespace shutterbeat::window
{
namespace
{
/// A name beside `path` that is free: "film (2).shutterbeat".
std::string freeNameBeside (const std::string& path)
{
    const std::filesystem::path whole (path);
    std::error_code failed;
    for (int number = 2;; ++number)
    {
        const auto tried =
            whole.parent_path() / (whole.stem().string() + " (" + std::to_string (number) + ")" + whole.extension().string());
        if (! std::filesystem::exists (tried, failed))
            return tried.string();
    }
}

/// What the scan has to say, without the options that its command has for it: the window has menus.
std::string notesText (const std::vector<std::string>& notes)
{
    std::string text;
    for (const auto& note : notes)
        text += (text.empty() ? "" : "  ") + note.substr (0, note.find ("; choose another with --")) + ".";
    return text;
}

std::string fileName (const std::string& path)
{
    return std::filesystem::path (path).filename().string();
}
} // namespace

Bench::Fetched Bench::fetched (desk::OpenBook open)
{
    auto missing = desk::missingFilms (open);
    auto times = spotting::timesOf (open.book);
    auto kept = desk::keptEdits (open);
    return { std::move (open), std::move (missing), std::move (times), std::move (kept) };
}

void Bench::atTheDisk (std::function<void()> work, std::function<void()> then)
{
    ++diskWork;
    runner.run (std::move (work),
                [this, then = std::move (then)]
                {
                    --diskWork;
                    then();
                });
    changed();
}

void Bench::take (Fetched fetched, bool saved)
{
    open = std::move (fetched.open);
    everSaved = saved;
    history.emplace (open.book);
    bookKept.reset();
    bookSeen.reset();
    keptSomething = false;
    drag.reset();
    question.reset();
    loopPending.reset();
    panel = Panel::ledger;
    bandZoom = 1;
    transport.clear();
    timings.reset();
    message = {};
    if (fetched.times)
        useTimes (std::move (*fetched.times));
    else
        recompute(); // which says what is wrong with it
    filmsChanged (std::move (fetched.missing), true);
    if (! missingFilms.empty())
        message = { Message::Kind::problem, missingFilms.front().path + ": " + missingFilms.front().why
                                                + ". Ctrl+F finds it again; everything but its pictures works meanwhile." };
    changed();
    if (fetched.kept)
        offerKept (std::move (*fetched.kept));
}

void Bench::filmsChanged (std::vector<desk::MissingFilm> missing, bool another)
{
    const desk::OpenBook now{ history->book(), open.path, open.stamp };
    missingFilms = std::move (missing);
    std::vector<std::vector<std::string>> paths;
    for (const auto& print : now.book.prints)
    {
        std::vector<std::string> reels;
        for (std::size_t r = 0; r < print.reels.size(); ++r)
        {
            bool gone = false;
            for (const auto& film : missingFilms)
                gone = gone || (film.print == print.id && film.reel == r);
            // A working copy shows the same pictures, more quickly, and where the film itself is away.
            const auto path = desk::filmPathForPlaying (now, print.reels[r]);
            reels.push_back (gone && path == desk::filmPath (now, print.reels[r]) ? "" : path);
        }
        paths.push_back (std::move (reels));
    }
    filmFiles = play::FilmFiles (now.book.prints.list(), paths);
    if (onBookOpened)
        onBookOpened (another);
}

void Bench::openPath (const std::string& path, std::function<void()> then)
{
    const int mine = ++opening;
    const auto outcome = std::make_shared<std::optional<Result<Fetched>>>();
    say ("Opening " + path + " ...");
    atTheDisk (
        [path, outcome]
        {
            auto opened = desk::openBook (path);
            if (opened)
                outcome->emplace (fetched (std::move (*opened)));
            else
                outcome->emplace (opened.error());
        },
        [this, outcome, mine, then = std::move (then)]
        {
            if (mine != opening)
                return;
            auto& result = **outcome;
            if (! result)
                return complain (result.error().text());
            take (std::move (*result), true);
            if (then)
                then();
        });
}

void Bench::save (std::function<void()> then)
{
    if (! history)
        return complain ("There is no book to save yet.");
    // Two writes of one book at a time would each take the other for somebody else's: the second waits.
    if (saving)
        return saveAgain.push_back (std::move (then));
    saving = true;
    const auto now = std::make_shared<desk::OpenBook> (desk::OpenBook{ history->book(), open.path, open.stamp });
    const auto outcome = std::make_shared<std::optional<Result<Done>>>();
    atTheDisk ([now, outcome] { outcome->emplace (desk::saveBook (*now)); },
               [this, now, outcome, then = std::move (then)]
               {
                   saving = false;
                   const auto waiting = std::exchange (saveAgain, {});
                   const auto& saved = **outcome;
                   if (! saved)
                       return saved.error().code == ErrorCode::conflict ? tellConflict() : complain (saved.error().text());
                   open = std::move (*now);
                   everSaved = true;
                   say ("Saved " + open.path + ".");
                   if (then)
                       then();
                   for (const auto& next : waiting)
                       save (next);
               });
}

void Bench::saveAs (const std::string& path)
{
    if (! history)
        return;
    const auto now = std::make_shared<desk::OpenBook> (desk::OpenBook{ history->book(), path, "" });
    // Films are kept relative to the book: under a new name each is looked for from there.
    auto prints = now->book.prints.list();
    for (auto& print : prints)
        for (auto& reel : print.reels)
            reel.path = desk::filmPath ({ history->book(), open.path, "" }, reel);
    if (std::filesystem::path (path).parent_path() != std::filesystem::path (open.path).parent_path())
        now->book.prints = std::move (prints);
    const auto outcome = std::make_shared<std::optional<Result<Done>>>();
    atTheDisk ([now, outcome] { outcome->emplace (desk::saveBook (*now)); },
               [this, now, outcome]
               {
                   const auto& saved = **outcome;
                   if (! saved)
                       return complain (saved.error().code == ErrorCode::conflict
                                            ? now->path + ": there is a file of that name already; choose another name"
                                            : saved.error().text());
                   if (! (now->book.prints == history->book().prints))
                   {
                       auto moved = history->book();
                       moved.prints = now->book.prints;
                       history->did ("save under another name", std::move (moved), selected());
                       recompute();
                   }
                   open = std::move (*now);
                   everSaved = true;
                   panel = Panel::ledger;
                   say ("Saved " + open.path + ".");
               });
}

void Bench::tellConflict()
{
    const std::string beside = freeNameBeside (open.path);
    message = { Message::Kind::problem, open.path + ": somebody else has saved this book since it was opened here." };
    ask ({ "Two writers, one book",
           "Somebody else has saved " + fileName (open.path)
               + " since you opened it. Nothing has been written over. Yours can be kept beside it, or left for theirs.",
           { { "beside", "Save mine as " + fileName (beside), [this, beside] { saveAs (beside); } },
             { "theirs", "Open theirs, leave mine", [this] { openPath (open.path); } },
             { "stay", "Go on without saving", {} } } });
}

void Bench::startNewBook (const desk::NewBook& wanted, const std::string& bookPath)
{
    auto asked = wanted;
    asked.speedLater = true;
    startJob<desk::MadeBook> (
        "Looking through " + (wanted.files.empty() ? std::string ("the film") : fileName (wanted.files.front())),
        [asked, bookPath] (const desk::Progress& progress) { return desk::newBook (bookPath, asked, progress); },
        [this] (desk::MadeBook made)
        { made.speedOpen ? askSpeed (std::move (made)) : takeNew (std::move (made.open), notesText (made.notes)); },
        "Stopped. No book was made.");
}

/// The scan is kept while the user is asked what it could not tell.
void Bench::askSpeed (desk::MadeBook made)
{
    const auto kept = std::make_shared<desk::MadeBook> (std::move (made));
    Question asked{ "Which running speed?",
                    "Nothing in the film tells how many film frames a second it is to be seen at, and the file's own rate does "
                    "not. It can be changed later; no place will move.",
                    {} };
    for (const auto& speed : usualSpeeds())
        asked.choices.push_back ({ "speed." + time::speedName (speed), time::speedText (speed) + " film frames a second",
                                   [this, kept, speed]
                                   {
                                       auto chosen = kept->open;
                                       auto at = spotting::setRunningSpeed (chosen.book, chosen.book.edition, speed);
                                       if (! at)
                                           return complain (at.error().text());
                                       chosen.book = std::move (*at);
                                       takeNew (std::move (chosen), notesText (kept->notes));
                                   } });
    asked.choices.push_back ({ "stay", "Make no book", {} });
    ask (std::move (asked));
}

void Bench::takeNew (desk::OpenBook made, const std::string& said)
{
    const auto outcome = std::make_shared<std::optional<Fetched>>();
    atTheDisk ([made = std::move (made), outcome] { outcome->emplace (fetched (made)); },
               [this, outcome, said]
               {
                   ++opening; // whatever was asked to be opened meanwhile comes too late
                   take (std::move (**outcome), false);
                   say (said + "  Ctrl+S saves the book.");
               });
}

void Bench::cancelJob()
{
    if (job)
        job->cancelled = true;
}

/// As many of the missing films as lie in a folder or below it.
void Bench::findMissingIn (const std::string& folder)
{
    startJob<desk::FoundFilms> (
        "Looking through " + fileName (folder),
        [now = opened(), gone = missingFilms, folder] (const desk::Progress& progress)
        { return desk::findFilms (now, gone, folder, progress); },
        [this, mine = opening] (desk::FoundFilms found)
        {
            if (mine != opening)
                return;
            std::string told;
            for (const auto& note : found.notes)
                told += " " + note + (note.empty() || note.back() == '.' ? "" : ".");
            if (found.found.empty())
                return complain ("None of the missing films is in that folder or below it." + told);
            auto edited = book();
            edited.prints = std::move (found.prints);
            did ("find films", std::move (edited), selected());
            auto left = missingFilms;
            std::erase_if (left, [&] (const desk::MissingFilm& film)
                           { return std::find (found.missing.begin(), found.missing.end(), film.path) == found.missing.end(); });
            filmsChanged (std::move (left), false);
            if (missingFilms.empty())
                panel = Panel::ledger;
            say ("Found " + std::to_string (found.found.size()) + (found.found.size() == 1 ? " film" : " films")
                 + (missingFilms.empty() ? "." : "; " + std::to_string (missingFilms.size()) + " still missing.")
                 + " Ctrl+S keeps the new places in the book." + told);
        },
        "Stopped looking.");
}

void Bench::relinkMissing (std::size_t which, const std::string& newPath)
{
    if (! history || which >= missingFilms.size())
        return;
    std::error_code unknown;
    if (std::filesystem::is_directory (newPath, unknown))
        return findMissingIn (newPath);
    struct Linked
    {
        Result<spotting::Book> book;
        std::vector<desk::MissingFilm> missing;
    };
    const auto outcome = std::make_shared<std::optional<Linked>>();
    const desk::OpenBook now{ history->book(), open.path, open.stamp };
    say ("Looking into " + fileName (newPath) + " ...");
    atTheDisk (
        [now, gone = missingFilms[which], newPath, outcome]
        {
            auto linked = desk::relink (now, gone, newPath);
            std::vector<desk::MissingFilm> missing;
            if (linked)
                missing = desk::missingFilms ({ *linked, now.path, now.stamp });
            outcome->emplace (Linked{ std::move (linked), std::move (missing) });
        },
        [this, outcome, newPath, mine = opening]
        {
            auto& result = **outcome;
            if (mine != opening)
                return;
            if (! result.book)
                return complain (result.book.error().text());
            // Hits may have been placed meanwhile: only the prints are taken over.
            auto book = history->book();
            book.prints = result.book->prints;
            did ("find film", std::move (book), selected());
            filmsChanged (std::move (result.missing), false);
            if (missingFilms.empty())
                panel = Panel::ledger;
            say ("Found " + fileName (newPath) + ". Ctrl+S keeps its new place in the book.");
        });
}

void Bench::beforeLeaving (const std::string& what, std::function<void()> go)
{
    if (! dirty())
        return go();
    ask ({ "Unsaved work",
           fileName (open.path) + " has changes that are not saved.",
           { { "save", "Save, then " + what, [this, go] { save (go); } },
             { "leave", "Leave them and " + what,
               [this, go]
               {
                   dropKept();
                   go();
               } },
             { "stay", "Stay here", {} } } });
}

void Bench::quit()
{
    beforeLeaving ("close",
                   [this]
                   {
                       if (onQuit)
                           onQuit();
                   });
}
} // namespace shutterbeat::window
