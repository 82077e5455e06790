// Edits that were not saved are kept, and offered when the book is opened again.
#include "OnBench.h"

#include "desk/Autosave.h"
#include "desk/StateFolder.h"

#include <algorithm>
#include <csignal>
#include <sys/wait.h>

using namespace shutterbeat;
using tests::OnBench;

namespace
{
constexpr std::int64_t second = 1'000'000'000;

/// The state folder of one test.
struct State
{
    State()
        : folder (tests::freshFolder ("state"))
    {
        ::setenv ("XDG_STATE_HOME", folder.c_str(), 1);
    }
    ~State()
    {
        std::filesystem::remove_all (folder);
        ::unsetenv ("XDG_STATE_HOME");
    }
    [[nodiscard]] std::size_t files() const
    {
        std::error_code failed;
        return static_cast<std::size_t> (
            std::distance (std::filesystem::directory_iterator (folder + "/shutterbeat/autosave", failed), {}));
    }
    std::string folder;
};

void waitSeconds (OnBench& on, int seconds)
{
    for (int i = 0; i < seconds * 4; ++i)
    {
        on.clock.now += second / 4;
        on.bench.keepEdits();
    }
}

/// What a program that was killed in the middle of its work leaves: its edits, under its own number.
void editAndDie (const std::string& path, const std::string& label)
{
    const auto child = ::fork();
    REQUIRE (child >= 0);
    if (child == 0)
    {
        auto open = desk::openBook (path);
        auto hits = open->book.hits.list();
        hits[0].label = label;
        open->book.hits = std::move (hits);
        const auto kept = desk::autosave (path, open->book);
        ::_exit (kept ? 0 : 1);
    }
    int status = 0;
    REQUIRE (::waitpid (child, &status, 0) == child);
    REQUIRE (status == 0);
}
} // namespace

TEST_CASE ("edits are kept a few seconds after they were made, and go when they are saved")
{
    const State state;
    OnBench on ("kept");
    waitSeconds (on, 5);
    CHECK (state.files() == 0);
    on.bench.rename ("anna-5", "a new name");
    on.bench.keepEdits();
    CHECK (state.files() == 0); // not while the hand is still at it
    waitSeconds (on, 4);
    REQUIRE (state.files() == 1);
    CHECK (spotting::hitOf (store::loadBook (desk::autosavePath (on.path))->book, "anna-5")->label == "a new name");
    // Edit after edit, without a rest: kept all the same.
    for (int i = 0; i < 15; ++i)
    {
        on.bench.rename ("anna-5", "name " + std::to_string (i));
        waitSeconds (on, 1);
    }
    CHECK (spotting::hitOf (store::loadBook (desk::autosavePath (on.path))->book, "anna-5")->label != "a new name");
    on.bench.save();
    waitSeconds (on, 2);
    CHECK (state.files() == 0);
    // Its own edits are never offered to the window that made them.
    on.bench.rename ("anna-5", "once more");
    waitSeconds (on, 4);
    REQUIRE (state.files() == 1);
    CHECK_FALSE (desk::keptEdits ({ store::loadBook (on.path)->book, on.path, "" }).has_value());
}

TEST_CASE ("what a program that was killed had kept is offered, taken up as a step, or put beside the book")
{
    const State state;
    OnBench on ("killed");
    editAndDie (on.path, "before the fall");
    const auto saved = on.bench.book();
    for (const bool take : { false, true })
    {
        if (take)
            editAndDie (on.path, "before the fall");
        on.bench.openPath (on.path);
        REQUIRE (on.bench.question.has_value());
        CHECK (on.bench.question->title == "Unsaved edits were kept");
        CHECK (on.bench.book() == saved);
        on.bench.answer (take ? 0 : 1);
        INFO (on.bench.message.text);
        CHECK (state.files() == 0);
        if (take)
        {
            CHECK (spotting::hitOf (on.bench.book(), "anna-5")->label == "before the fall");
            on.bench.undo();
            CHECK (on.bench.book() == saved);
        }
        else
        {
            CHECK (on.bench.book() == saved);
            std::size_t books = 0;
            for (const auto& entry : std::filesystem::directory_iterator (on.folder))
                books += entry.path().extension() == ".shutterbeat" ? 1 : 0;
            CHECK (books == 2);
        }
    }
    // Left for later they are there again; edits like what was saved are none.
    editAndDie (on.path, "later");
    on.bench.openPath (on.path);
    on.bench.answer (2);
    CHECK (state.files() == 1);
    editAndDie (on.path, spotting::hitOf (saved, "anna-5")->label);
    std::error_code failed;
    for (const auto& entry : std::filesystem::directory_iterator (state.folder + "/shutterbeat/autosave", failed))
        if (spotting::hitOf (store::loadBook (entry.path().string())->book, "anna-5")->label == "later")
            std::filesystem::remove (entry.path());
    CHECK_FALSE (desk::keptEdits ({ saved, on.path, "" }).has_value());
}
