#include "store/BookFile.h"
#include "store/WholeFile.h"

#include "Catch.h"
#include "store/Folder.h"

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace shutterbeat;
using tests::Folder;
using tests::readFile;
namespace fs = std::filesystem;

namespace
{
/// A book with so many hits, some 300 bytes each on disk.
spotting::Book bookOf (int hits)
{
    spotting::Book book;
    book.title = "The Lamp";
    film::Print print;
    print.id = "print-1";
    film::ReelFile reel;
    reel.path = "reel.mov";
    reel.cadence = film::Cadence::oneToOne (10'000);
    print.reels.push_back (reel);
    book.prints = std::vector{ print };
    film::Edition edition;
    edition.speed = 18;
    film::Shot shot;
    shot.id = "scan-1";
    shot.print = print.id;
    shot.end = 10'000;
    edition.shots = { shot };
    book.editions = std::vector{ edition };
    book.people = std::vector<spotting::Person>{ { "anna", "Anna", "restorer", hits, {} } };
    std::vector<spotting::HitPoint> all;
    for (int i = 1; i <= hits; ++i)
    {
        spotting::HitPoint hit;
        hit.id = "anna-" + std::to_string (i);
        hit.place = film::PicturePlace{ print.id, i, 0 };
        hit.label = "hit";
        all.push_back (hit);
    }
    book.hits = all;
    return book;
}

/// Runs `work` in a process of its own; its exit status, or 200 + signal.
int apart (const std::function<int()>& work)
{
    const auto child = ::fork();
    REQUIRE (child >= 0);
    if (child == 0)
        ::_exit (work());
    int status = 0;
    ::waitpid (child, &status, 0);
    return WIFEXITED (status) ? WEXITSTATUS (status) : 200 + WTERMSIG (status);
}

/// Kills a program that saves without pause at `rounds` moments; each time the book has to be the one before or the one after.
void killWhileSaving (int rounds)
{
    const Folder folder;
    const auto path = folder / "film.shutterbeat";
    constexpr std::size_t hits = 2000;
    REQUIRE (store::saveBook (path, bookOf (hits), "").ok());
    int changedOnDisk = 0;
    std::string last = readFile (path);
    for (int round = 0; round < rounds; ++round)
    {
        auto loaded = store::loadBook (path);
        REQUIRE (loaded.ok());
        const auto child = ::fork();
        REQUIRE (child >= 0);
        if (child == 0)
        {
            for (int i = 0; loaded.ok(); ++i)
            {
                loaded->book.title = "round " + std::to_string (round) + " save " + std::to_string (i);
                auto stamp = store::saveBook (path, loaded->book, loaded->stamp);
                if (! stamp)
                    break;
                loaded->stamp = *stamp;
            }
            ::_exit (0);
        }
        // Whatever the machine is doing: kill it only once it has saved, then at another moment each time.
        for (int wait = 0; wait < 60'000 && readFile (path) == last; ++wait)
            ::usleep (1000);
        ::usleep (static_cast<unsigned> (round * 7919 % 34'000));
        ::kill (child, SIGKILL);
        int status = 0;
        ::waitpid (child, &status, 0);
        loaded = store::loadBook (path);
        INFO ("kill " << round);
        REQUIRE (loaded.ok());
        REQUIRE (loaded->book.hits.size() == hits);
        const auto now = readFile (path);
        changedOnDisk += now != last ? 1 : 0;
        last = now;
    }
    // The kills must have met a program that really was saving.
    CHECK (changedOnDisk == rounds);
    // What the killed ones left half written goes with the next save.
    auto loaded = store::loadBook (path);
    loaded->book.title = "after";
    REQUIRE (store::saveBook (path, loaded->book, loaded->stamp).ok());
    CHECK (std::distance (fs::directory_iterator (folder.path), fs::directory_iterator()) == 1);
}

/// A disk of `kilobytes` over `folder`, seen by this process and its children only. False where the kernel does not let us.
bool ownDisk (const std::string& folder, int kilobytes)
{
    const auto user = ::getuid(), group = ::getgid();
    if (::unshare (CLONE_NEWUSER | CLONE_NEWNS) != 0)
        return false;
    const auto tell = [] (const char* path, const std::string& text) { std::ofstream (path) << text; };
    tell ("/proc/self/setgroups", "deny");
    tell ("/proc/self/uid_map", "0 " + std::to_string (user) + " 1");
    tell ("/proc/self/gid_map", "0 " + std::to_string (group) + " 1");
    return ::mount ("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) == 0
           && ::mount ("none", folder.c_str(), "tmpfs", 0, ("size=" + std::to_string (kilobytes) + "k").c_str()) == 0;
}

enum Verdict
{
    fine = 0,
    noDisk = 77
};
} // namespace

TEST_CASE ("Killed while saving, the book is the old one or the new one, whole (CASES B55)")
{
    killWhileSaving (30);
}

TEST_CASE ("Killed a thousand times while saving", "[.long]")
{
    killWhileSaving (1000);
}

TEST_CASE ("A disk that fills up while saving is said, and the book on it stays whole")
{
    const Folder folder;
    const int verdict = apart (
        [&]
        {
            if (! ownDisk (folder.path.string(), 256))
                return static_cast<int> (noDisk);
            const auto path = folder / "film.shutterbeat";
            const auto stamp = store::saveBook (path, bookOf (100), "");
            if (! stamp)
                return 1;
            const auto before = readFile (path);
            const auto saved = store::saveBook (path, bookOf (3000), *stamp); // more than the disk holds
            if (saved.ok() || saved.error().code != ErrorCode::cannotWrite)
                return 2;
            if (saved.error().message.find ("full") == std::string::npos)
                return 3;
            if (readFile (path) != before || ! store::loadBook (path).ok())
                return 4;
            if (std::distance (fs::directory_iterator (folder.path), fs::directory_iterator()) != 1)
                return 5;
            // With room again it goes on from where it was.
            return store::saveBook (path, bookOf (120), *stamp).ok() ? static_cast<int> (fine) : 6;
        });
    if (verdict == noDisk)
        WARN ("no disk of our own can be had here; not tested");
    else
        CHECK (verdict == fine);
}

TEST_CASE ("A disk that is read-only is said, and the book stays as it is")
{
    const Folder folder;
    const int verdict = apart (
        [&]
        {
            if (! ownDisk (folder.path.string(), 4096))
                return static_cast<int> (noDisk);
            const auto path = folder / "film.shutterbeat";
            const auto stamp = store::saveBook (path, bookOf (100), "");
            const auto before = readFile (path);
            if (! stamp || ::mount ("none", folder.path.c_str(), "tmpfs", MS_REMOUNT | MS_RDONLY, nullptr) != 0)
                return 1;
            const auto saved = store::saveBook (path, bookOf (120), *stamp);
            if (saved.ok() || saved.error().code != ErrorCode::cannotWrite)
                return 2;
            if (saved.error().message.find ("read-only") == std::string::npos)
                return 3;
            return readFile (path) == before ? static_cast<int> (fine) : 4;
        });
    if (verdict == noDisk)
        WARN ("no disk of our own can be had here; not tested");
    else
        CHECK (verdict == fine);
}

TEST_CASE ("A stick that is pulled out is said, and the book is on it as it was last saved")
{
    const Folder folder;
    const auto stick = folder / "stick";
    const auto path = stick + "/film.shutterbeat";
    fs::create_directory (stick);
    const auto stamp = store::saveBook (path, bookOf (100), "");
    REQUIRE (stamp.ok());
    const auto before = readFile (path);
    fs::rename (stick, folder / "pulled"); // the folder it was mounted on goes, as desktops do
    const auto saved = store::saveBook (path, bookOf (120), *stamp);
    REQUIRE_FALSE (saved.ok());
    CHECK (saved.error().code == ErrorCode::cannotWrite);
    CHECK (saved.error().where == path);
    CHECK_FALSE (saved.error().message.empty());
    fs::rename (folder / "pulled", stick);
    CHECK (readFile (path) == before);
    CHECK (store::saveBook (path, bookOf (120), *stamp).ok());
}

TEST_CASE ("A save that is cut short by a limit leaves the book whole")
{
    const Folder folder;
    const auto path = folder / "film.shutterbeat";
    const auto stamp = store::saveBook (path, bookOf (50), "");
    REQUIRE (stamp.ok());
    const auto before = readFile (path);
    const int verdict = apart (
        [&]
        {
            std::signal (SIGXFSZ, SIG_IGN);
            const rlimit little{ 64 * 1024, 64 * 1024 };
            ::setrlimit (RLIMIT_FSIZE, &little);
            const auto saved = store::saveBook (path, bookOf (5000), *stamp);
            return ! saved.ok() && saved.error().code == ErrorCode::cannotWrite ? static_cast<int> (fine) : 1;
        });
    CHECK (verdict == fine);
    CHECK (readFile (path) == before);
    CHECK (std::distance (fs::directory_iterator (folder.path), fs::directory_iterator()) == 1);
}

TEST_CASE ("Several programs that save one book at once lose nothing of one another")
{
    const Folder folder;
    const auto path = folder / "film.shutterbeat";
    REQUIRE (store::saveBook (path, bookOf (0), "").ok());
    constexpr int writers = 4, each = 12;
    std::vector<pid_t> children;
    for (int w = 0; w < writers; ++w)
    {
        const auto child = ::fork();
        REQUIRE (child >= 0);
        if (child == 0)
        {
            for (int i = 0; i < each;)
            {
                auto loaded = store::loadBook (path);
                if (! loaded)
                    ::_exit (1); // a torn book was seen
                auto hits = loaded->book.hits.list();
                spotting::HitPoint hit;
                hit.id = "writer" + std::to_string (w) + "-" + std::to_string (i + 1);
                hit.place = film::PicturePlace{ "print-1", i, 0 };
                hits.push_back (hit);
                loaded->book.hits = std::move (hits);
                const auto saved = store::saveBook (path, loaded->book, loaded->stamp);
                if (saved)
                    ++i;
                else if (saved.error().code != ErrorCode::conflict)
                    ::_exit (2);
            }
            ::_exit (0);
        }
        children.push_back (child);
    }
    for (const auto child : children)
    {
        int status = 0;
        ::waitpid (child, &status, 0);
        CHECK (status == 0);
    }
    const auto loaded = store::loadBook (path);
    REQUIRE (loaded.ok());
    CHECK (loaded->book.hits.size() == std::size_t{ writers } * each);
}

TEST_CASE ("A clock that was set back changes nothing")
{
    const Folder folder;
    const auto path = folder / "film.shutterbeat";
    REQUIRE (store::saveBook (path, bookOf (3), "").ok());
    auto loaded = store::loadBook (path);
    REQUIRE (loaded.ok());
    for (const int days : { 4000, -4000 })
    {
        fs::last_write_time (path, fs::file_time_type::clock::now() + std::chrono::hours (24 * days));
        loaded->book.title += "x";
        const auto stamp = store::saveBook (path, loaded->book, loaded->stamp);
        REQUIRE (stamp.ok());
        loaded->stamp = *stamp;
    }
    CHECK (store::loadBook (path)->book.title == "The Lampxx");
}

TEST_CASE ("Books of every schema version open, and are saved as the newest")
{
    std::vector<int> seen (static_cast<std::size_t> (store::schemaVersion) + 1);
    for (const auto& entry : fs::directory_iterator (SHUTTERBEAT_SOURCE_DIR "/Tests/corpus/book"))
    {
        // schema-1-first.shutterbeat: the version it was written in, and what it has.
        const auto name = entry.path().filename().string();
        if (name.rfind ("schema-", 0) != 0)
            continue;
        INFO (name);
        const auto version = static_cast<std::size_t> (std::atoi (name.c_str() + 7));
        REQUIRE (version < seen.size());
        ++seen[version];
        const auto loaded = store::loadBook (entry.path().string());
        INFO ((loaded ? "" : loaded.error().text()));
        REQUIRE (loaded.ok());
        CHECK_FALSE (loaded->book.title.empty());
        const auto text = store::bookText (loaded->book);
        CHECK (text.find ("\"schema\": " + std::to_string (store::schemaVersion)) != std::string::npos);
        const auto again = store::parseBook (text, name);
        REQUIRE (again.ok());
        CHECK (*again == loaded->book);
    }
    for (std::size_t version = 1; version < seen.size(); ++version)
    {
        INFO ("schema " << version << " has no book in Tests/corpus/book");
        CHECK (seen[version] > 0);
    }
}
