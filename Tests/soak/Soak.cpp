// Plays, jumps, edits, undoes, saves and exports at random for as long as it is told, as somebody at the bench would:
//   shutterbeat_soak BOOK FOLDER [--minutes M] [--seed S]
// Works on a copy of BOOK in FOLDER. Prints memory and missed frames once a minute, and a verdict. Exit status 1: a step failed, or
// in a run of ten minutes or more memory grew by more than a tenth and 24 MB between the first fifth and the end. A step that takes
// more than two minutes is stuck: then the program ends by a signal.

#include "desk/Export.h"
#include "fuzz/Mutator.h"
#include "play/DecodeWorker.h"
#include "play/Transport.h"
#include "spotting/Edit.h"
#include "spotting/History.h"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <unistd.h>

using namespace shutterbeat;
namespace fs = std::filesystem;

namespace
{
using Moment = std::chrono::steady_clock;

[[noreturn]] void fail (const std::string& what)
{
    std::printf ("FAIL: %s\n", what.c_str());
    std::exit (1);
}

/// Bytes of memory that are really there (proc(5)).
std::size_t memory()
{
    std::ifstream file ("/proc/self/statm");
    std::size_t whole = 0, resident = 0;
    file >> whole >> resident;
    return resident * static_cast<std::size_t> (::sysconf (_SC_PAGESIZE));
}

/// As many hits as a busy hour of film has.
constexpr std::size_t mostHits = 120;

class Bench
{
public:
    Bench (desk::OpenBook book, std::string outFolder, std::uint64_t seed)
        : open (std::move (book))
        , out (std::move (outFolder))
        , dice (seed)
        , history (open.book)
        , transport (clock)
    {
        std::vector<std::vector<std::string>> paths;
        for (const auto& print : open.book.prints)
        {
            auto& reels = paths.emplace_back();
            for (const auto& reel : print.reels)
                reels.push_back (desk::filmPath (open, reel));
        }
        files = play::FilmFiles (open.book.prints.list(), paths);
        worker = std::make_unique<play::DecodeWorker> (play::filmPictures (files.paths()), std::size_t{ 64 } << 20);
        retime();
    }

    void step()
    {
        switch (dice.below (12))
        {
        case 0:
        case 1:
        case 2:
            playFor (200 + dice.below (1500));
            break;
        case 3:
            transport.goToDelivered (static_cast<std::int64_t> (dice.below (static_cast<std::size_t> (length()))));
            look();
            break;
        case 4:
            transport.step (static_cast<std::int64_t> (dice.below (50)) - 25);
            look();
            break;
        case 5:
        case 6:
            // A book that grew for ever would need memory for ever.
            history.book().hits.size() < mostHits ? addHit() : removeHit();
            break;
        case 7:
            changeHit();
            break;
        case 8:
            removeHit();
            break;
        case 9:
            for (std::size_t i = 0; i < 1 + dice.below (4); ++i)
                dice.below (2) == 0 && history.canRedo() ? history.redo() : history.canUndo() ? history.undo() : void();
            retime();
            break;
        case 10:
            save();
            break;
        default:
            if (dice.below (8) == 0)
                exportAll();
        }
        // A day's steps are many; the history of a session is let go as it is when the book is opened anew.
        if (history.all().size() > 400)
            history = spotting::History (history.book());
    }

    long due = 0, late = 0, steps = 0, exports = 0, saves = 0;

private:
    [[nodiscard]] std::int64_t length() const { return std::max<std::int64_t> (1, timings->deliveredLength (0)); }

    void retime()
    {
        auto made = spotting::timingsOf (history.book());
        if (! made)
            fail ("no timings: " + made.error().text());
        timings = std::make_shared<const film::Timings> (std::move (*made));
        transport.setTimings (timings);
    }

    void want (int ahead)
    {
        worker->want (play::wantedKeys (files, *timings, transport.position(), transport.direction(), ahead), 320, 240);
    }

    /// One picture, waited for.
    void look()
    {
        want (0);
        worker->waitUntilIdle();
        const auto key = files.keyAt (*timings, transport.position());
        if (key && ! worker->picture (*key) && worker->failure (*key).empty())
            fail ("a picture neither came nor failed");
    }

    void playFor (std::size_t milliseconds)
    {
        look();
        transport.playAt (dice.below (5) == 0 ? time::Rational (-1) : time::Rational (1));
        const auto end = Moment::now() + std::chrono::milliseconds (milliseconds);
        while (Moment::now() < end && transport.playing())
        {
            if (transport.update())
            {
                want (12);
                ++due;
                const auto key = files.keyAt (*timings, transport.position());
                late += key && ! worker->picture (*key) ? 1 : 0;
            }
            ::usleep (4000);
        }
        transport.pause();
    }

    void addHit()
    {
        spotting::HitPoint hit;
        hit.place = timings->placeAt (transport.position());
        hit.label = "hit " + std::to_string (steps);
        auto added = spotting::addHits (history.book(), "soak", { hit });
        if (! added)
            fail ("a hit can't be added: " + added.error().text());
        history.did ("add hit", std::move (added->book), added->ids);
    }

    void changeHit()
    {
        const auto& hits = history.book().hits;
        if (hits.empty())
            return;
        auto hit = hits[dice.below (hits.size())];
        hit.note = "note " + std::to_string (steps);
        auto changed = spotting::setHit (history.book(), hit);
        if (! changed)
            fail ("a hit can't be changed: " + changed.error().text());
        history.did ("change hit", std::move (*changed), { hit.id });
    }

    void removeHit()
    {
        const auto& hits = history.book().hits;
        if (hits.size() < 40)
            return;
        auto left = spotting::removeHits (history.book(), { hits[dice.below (hits.size())].id });
        if (! left)
            fail ("a hit can't be removed: " + left.error().text());
        history.did ("remove hit", std::move (*left), {});
    }

    void save()
    {
        open.book = history.book();
        if (const auto saved = desk::saveBook (open); ! saved)
            fail ("not saved: " + saved.error().text());
        const auto again = desk::openBook (open.path);
        if (! again || ! (again->book == history.book()))
            fail ("the book on disk is not the one that was saved");
        ++saves;
    }

    void exportAll()
    {
        open.book = history.book();
        desk::ExportWish wish;
        wish.stamped = "2026-05-01";
        if (const auto made = desk::exportAll (open, out, wish); ! made)
            fail ("not exported: " + made.error().text());
        ++exports;
    }

    desk::OpenBook open;
    std::string out;
    fuzz::Dice dice;
    spotting::History history;
    play::SteadyClock clock;
    play::Transport transport;
    play::FilmFiles files;
    std::unique_ptr<play::DecodeWorker> worker;
    std::shared_ptr<const film::Timings> timings;
};
} // namespace

int main (int count, char** words)
{
    double minutes = 120;
    std::uint64_t seed = 1;
    std::vector<std::string> places;
    for (int i = 1; i < count; ++i)
    {
        const std::string word = words[i];
        if (word == "--minutes" && i + 1 < count)
            minutes = std::strtod (words[++i], nullptr);
        else if (word == "--seed" && i + 1 < count)
            seed = std::strtoull (words[++i], nullptr, 10);
        else
            places.push_back (word);
    }
    if (places.size() != 2)
        fail ("give a book and a folder");
    std::setvbuf (stdout, nullptr, _IOLBF, 0);
    std::error_code failed;
    fs::create_directories (places[1], failed);
    auto open = desk::openBook (places[0]);
    if (! open)
        fail (open.error().text());
    // The copy lies beside the book, so that its films are found; the book itself is never written.
    open->path = (fs::path (places[0]).parent_path() / "soak-copy.shutterbeat").string();
    open->stamp.clear();
    fs::remove (open->path, failed);
    const auto copy = open->path;
    Bench bench (std::move (*open), places[1], seed);
    const auto begun = Moment::now();
    const auto passed = [&] { return std::chrono::duration<double> (Moment::now() - begun).count() / 60; };
    std::size_t early = 0;
    int said = 0;
    for (; passed() < minutes; ++bench.steps)
    {
        ::alarm (120);
        bench.step();
        if (early == 0 && passed() > minutes / 5)
            early = memory();
        if (passed() >= said + 1)
            std::printf ("%d min: %zu MB, %ld steps, %ld frames due, %ld late\n", ++said, memory() >> 20, bench.steps, bench.due,
                         bench.late);
    }
    ::alarm (0);
    fs::remove (copy, failed);
    const auto last = memory();
    // The first minutes fill caches: only a long run says whether memory is flat.
    const bool flat = minutes < 10 || last <= early + early / 10 + (std::size_t{ 24 } << 20);
    std::printf (
        "%s: %.1f minutes, %ld steps, %ld saves, %ld exports, %ld frames due, %ld late, memory %zu MB early and %zu MB last\n",
        flat ? "pass" : "FAIL", passed(), bench.steps, bench.saves, bench.exports, bench.due, bench.late, early >> 20, last >> 20);
    return flat ? 0 : 1;
}
