#include "desk/Parcel.h"

#include "desk/CueClick.h"
#include "desk/Export.h"
#include "desk/ParcelText.h"
#include "desk/Render.h"
#include "desk/WebPage.h"
#include "media/Checksum.h"
#include "spotting/Ids.h"
#include "store/Parcels.h"
#include "store/WholeFile.h"
#include "store/ZipFile.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;

/// A folder being filled; gone unless it was kept.
class ParcelFolder
{
public:
    static Result<ParcelFolder> beside (const std::string& target)
    {
        std::error_code failed;
        const auto folder = target + ".part";
        fs::remove_all (folder, failed);
        if (fs::create_directories (folder, failed); failed)
            return cannotWrite (folder, failed.message() + "; choose another folder");
        return ParcelFolder (folder);
    }
    ParcelFolder (ParcelFolder&& other) noexcept
        : path (std::exchange (other.path, ""))
    {
    }
    ParcelFolder& operator= (ParcelFolder&&) = delete;
    ~ParcelFolder()
    {
        std::error_code ignored;
        if (! path.empty())
            fs::remove_all (path, ignored);
    }

    [[nodiscard]] std::string operator/ (const std::string& name) const { return (fs::path (path) / name).string(); }
    Result<Done> becomes (const std::string& target)
    {
        std::error_code failed;
        fs::rename (path, target, failed);
        if (failed)
            return cannotWrite (target, failed.message() + "; choose another folder");
        path.clear();
        return Done{};
    }
    std::string path;

private:
    explicit ParcelFolder (std::string folder)
        : path (std::move (folder))
    {
    }
};

/// Letters, digits, - and _ of a text; what else there is becomes "-".
std::string fileWord (const std::string& text)
{
    std::string word;
    for (const char c : text)
        word += (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-' ? c : '-';
    return word;
}

class Packing
{
public:
    Packing (const OpenBook& opened, const spotting::BookTimes& allTimes, const ParcelWish& wanted, MadeParcel& making,
             const ParcelFolder& parcelFolder, const Progress& watch)
        : open (opened)
        , times (allTimes)
        , wish (wanted)
        , made (making)
        , place (parcelFolder)
        , progress (watch)
    {
    }

    Result<Done> movies();
    Result<Done> page();
    Result<Done> lists();
    Result<Done> clicks();
    Result<Done> readMe();
    Result<Done> checksums();
    [[nodiscard]] const std::vector<ParcelItem>& contents() const { return items; }

private:
    void add (const std::string& path, const std::string& what) { items.push_back ({ fs::path (path).filename().string(), what }); }
    void note (const std::vector<std::string>& more)
    {
        for (const auto& one : more)
            if (std::find (made.notes.begin(), made.notes.end(), one) == made.notes.end())
                made.notes.push_back (one);
    }

    const OpenBook& open;
    const spotting::BookTimes& times;
    const ParcelWish& wish;
    MadeParcel& made;
    const ParcelFolder& place;
    const Progress& progress;
    std::vector<ParcelItem> items;
    std::vector<std::string> movieFiles;
};

Result<Done> Packing::movies()
{
    const auto reels = times.timings.reelCount();
    if (! wish.movies.empty() && wish.movies.size() != reels)
        return usageError ("parcel", "needs a movie for each of the " + std::to_string (reels) + " reel(s), or none");
    for (std::size_t reel = 0; reel < reels; ++reel)
    {
        const auto suffix = reels > 1 ? "-reel" + std::to_string (reel + 1) : std::string();
        auto ending = std::string (".mp4");
        if (! wish.movies.empty())
            ending = fs::path (wish.movies[reel]).extension().string();
        const auto target = place / ("movie" + suffix + ending);
        if (! wish.movies.empty())
        {
            std::error_code failed;
            fs::copy_file (wish.movies[reel], target, failed);
            if (failed)
                return unreadable (wish.movies[reel], "can't be copied (" + failed.message() + ")");
        }
        else
        {
            RenderWish render;
            render.asked = wish.asked;
            render.reel = reel;
            render.leaderSeconds = wish.leaderSeconds;
            render.pop = wish.pop;
            render.preset = wish.preset;
            render.receiver = "Parcel " + std::to_string (made.parcel.number) + " for " + personName (made.book, wish.person);
            render.parts.receiver = true;
            const auto rendered = renderReel (open, target, render, progress);
            if (! rendered)
                return rendered.error();
            note (rendered->notes);
        }
        movieFiles.push_back (target);
        add (target, "reference movie" + (reels > 1 ? " of reel " + std::to_string (reel + 1) : std::string()) + ", with timecode"
                         + (wish.leaderSeconds > 0 ? " and leader" : ""));
    }
    return Done{};
}

Result<Done> Packing::page()
{
    WebPageWish page{ wish.asked, movieFiles, {}, wish.person, made.parcel.number, wish.stamped };
    const OpenBook with{ made.book, open.path, open.stamp };
    const auto target = place / "page.html";
    if (const auto written = writeWebPage (with, target, page); ! written)
        return written;
    add (target, "open this in a browser: the movie, all cues and hits, and room for your answers");
    return Done{};
}

Result<Done> Packing::lists()
{
    ExportWish look;
    look.asked = wish.asked;
    look.stamped = wish.stamped;
    look.letter = wish.letter;
    for (const char* format :
         { "timing-notes", "cue-list", "midi", "midi-cues", "musicxml", "csv", "cues-csv", "cmx3600", "hits-vtt" })
    {
        const auto& all = exportFormats();
        const auto known = std::find_if (all.begin(), all.end(), [&] (const Format& f) { return f.name == format; });
        const auto exported = exportBook (open, format, place / known->file, look, progress);
        if (! exported && exported.error().code == ErrorCode::usage)
        {
            note ({ known->file + " is not in the parcel: " + exported.error().text() });
            continue;
        }
        if (! exported)
            return exported.error();
        for (const auto& file : exported->files)
            add (file, known->what);
        note (exported->notes);
    }
    return Done{};
}

Result<Done> Packing::clicks()
{
    for (const auto& cue : times.cues)
    {
        if (! cue.cue.tempo)
            continue;
        ClickWish click;
        click.look.freeClicks = 4;
        const auto target = place / ("click-" + fileWord (cue.cue.number.empty() ? cue.cue.id : cue.cue.number) + ".wav");
        const auto written = writeClick (times, cue.cue.id, click, target);
        if (! written && written.error().code == ErrorCode::usage)
        {
            note ({ "the click of cue " + cue.cue.number + " is not in the parcel: " + written.error().text() });
            continue;
        }
        if (! written)
            return written.error();
        add (target, "click of cue " + cue.cue.number + " with " + std::to_string (written->freeClicks)
                         + " free clicks; its time stamp says where it starts");
        note (written->notes);
    }
    return Done{};
}

Result<Done> Packing::readMe()
{
    const auto target = place / "READ-ME.txt";
    items.insert (items.begin(), { "READ-ME.txt", "this page" });
    items.push_back ({ "SHA256SUMS", "checksums; sha256sum -c SHA256SUMS tells whether all arrived whole" });
    return store::writeWhole (target, parcelText (made, times, items));
}

Result<Done> Packing::checksums()
{
    std::string sums;
    for (const auto& item : items)
    {
        if (item.name == "SHA256SUMS")
            continue;
        const auto sum = media::sha256OfFile (place / item.name);
        if (! sum)
            return sum.error();
        sums += *sum + "  " + item.name + "\n";
        made.parcel.files.push_back ({ item.name, *sum });
    }
    return store::writeWhole (place / "SHA256SUMS", sums);
}
} // namespace

Result<MadeParcel> makeParcel (const OpenBook& open, const std::string& path, const ParcelWish& wish, const Progress& progress)
{
    std::error_code ignored;
    if (fs::exists (path, ignored))
        return cannotWrite (path, "is there already; a parcel never replaces another, choose a new name");
    const auto times = spotting::timesOf (open.book, wish.asked);
    if (! times)
        return times.error();
    MadeParcel made;
    made.book = open.book;
    const bool known = std::any_of (open.book.people.begin(), open.book.people.end(),
                                    [&] (const spotting::Person& p) { return p.id == wish.person; });
    if (! known)
    {
        // Only to have them among the people: a parcel has a number of its own.
        if (const auto id = spotting::takeIds (made.book, wish.person, 1); ! id)
            return id.error();
        made.notes.push_back (wish.person + " is one of the book's people now");
    }
    made.parcel.person = wish.person;
    made.parcel.stamped = wish.stamped;
    made.parcel.sent = spotting::sentState (*times);
    auto parcels = store::parcelsOf (open.book);
    if (! parcels)
        return Error{ parcels.error().code, open.path, parcels.error().message };
    if (const auto* last = spotting::lastParcel (*parcels, wish.person))
    {
        made.first = false;
        made.parcel.number = last->number + 1;
        made.changes = spotting::changesBetween (last->sent, made.parcel.sent);
    }
    made.notes.insert (made.notes.end(), times->notes.begin(), times->notes.end());

    auto place = ParcelFolder::beside (path);
    if (! place)
        return place.error();
    Packing packing (open, *times, wish, made, *place, progress);
    using Step = Result<Done> (Packing::*)();
    for (const Step step :
         { &Packing::movies, &Packing::page, &Packing::lists, &Packing::clicks, &Packing::readMe, &Packing::checksums })
    {
        if (! wish.movie && (step == &Packing::movies || step == &Packing::page))
            continue;
        if (const auto done = (packing.*step)(); ! done)
            return done.error();
    }
    if (fs::path (path).extension() == ".zip")
    {
        std::vector<store::ZipEntry> entries;
        const auto folder = fs::path (path).stem().string();
        for (const auto& item : packing.contents())
            entries.push_back ({ folder + "/" + item.name, *place / item.name });
        const auto zipped =
            store::writeZip (path, entries, [&] (double fraction) { return ! progress || progress (fraction, "packing"); });
        if (! zipped)
            return zipped.error();
    }
    else if (const auto kept = place->becomes (path); ! kept)
        return kept.error();
    parcels->push_back (made.parcel);
    made.book = store::withParcels (std::move (made.book), *parcels);
    return made;
}

Result<std::vector<spotting::Parcel>> parcelsSent (const OpenBook& open)
{
    return store::parcelsOf (open.book);
}
} // namespace shutterbeat::desk
