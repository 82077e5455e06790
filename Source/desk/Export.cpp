#include "desk/Export.h"

#include "desk/ExportMakers.h"
#include "desk/MemoryGivenBack.h"
#include "exchange/CsvList.h"
#include "store/WholeFile.h"

#include <algorithm>
#include <atomic>
#include <filesystem>
#include <thread>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;

/// "hits.csv" and "-reel2" make "hits-reel2.csv". A suffix may hold ids and numbers of the book, and a book may come from anybody:
/// what could lead out of the folder becomes a dash.
std::string withSuffix (const std::string& path, const std::string& suffix)
{
    if (suffix.empty())
        return path;
    std::string safe = suffix;
    std::replace_if (
        safe.begin(), safe.end(), [] (char c) { return c == '/' || c == '\\' || (c >= 0 && c < ' '); }, '-');
    const fs::path whole (path);
    return (whole.parent_path() / (whole.stem().string() + safe + whole.extension().string())).string();
}

Result<Exported> writeParts (const ExportMaker& maker, const ExportJob& job, const std::string& path)
{
    if (maker.writeFile)
        return maker.writeFile (job, path);
    auto written = maker.write (job);
    if (! written)
        return written.error();
    Exported exported;
    for (const auto& part : written->parts)
    {
        const std::string target = withSuffix (path, part.suffix);
        if (auto saved = store::writeWhole (target, part.bytes); ! saved)
            return saved.error();
        exported.files.push_back (target);
    }
    exported.notes = std::move (written->notes);
    return exported;
}

/// Whether it may take long, and so tells how far it is.
bool isLong (const ExportMaker& maker)
{
    return maker.writeFile || ! maker.format.inAll;
}

/// Each format into its file of a folder, as many at once as there are processor cores; what became of each, in order. Once one
/// can't be written no more are begun; only the caller's own thread speaks to the caller.
std::vector<Result<Exported>> writeSideBySide (const std::vector<const ExportMaker*>& makers, const ExportJob& job,
                                               const std::string& folder)
{
    constexpr std::size_t mostThreads = 4;
    std::vector<Result<Exported>> written (makers.size(), Exported{});
    std::atomic<bool> failed{ false };
    const auto writeOne = [&] (std::size_t i, const Progress& progress)
    {
        if (failed)
            return;
        written[i] = writeParts (*makers[i], { job.open, job.times, job.wish, job.pictures, progress },
                                 (fs::path (folder) / makers[i]->format.file).string());
        if (! written[i] && written[i].error().code != ErrorCode::usage)
            failed = true;
    };
    // Sheets with pictures take longest: they come first, so that no thread begins one when all others are done.
    std::vector<std::size_t> order;
    for (const bool pictures : { true, false })
        for (std::size_t i = 0; i < makers.size(); ++i)
            if (! isLong (*makers[i]) && (makers[i]->pictures != PicturesOf::none) == pictures)
                order.push_back (i);
    std::atomic<std::size_t> next{ 0 };
    const Progress nobody;
    const auto writeSome = [&]
    {
        for (auto at = next++; at < order.size(); at = next++)
            writeOne (order[at], nobody);
    };
    const auto threads = std::clamp<std::size_t> (std::thread::hardware_concurrency(), 1, mostThreads);
    std::vector<std::thread> others;
    for (std::size_t t = 1; t < threads && t < order.size(); ++t)
        others.emplace_back (writeSome);
    for (std::size_t i = 0; i < makers.size(); ++i)
        if (isLong (*makers[i]))
            writeOne (i, job.progress);
    writeSome();
    for (auto& other : others)
        other.join();
    return written;
}

/// The same sentence from several lists is said once.
void addOnce (std::vector<std::string>& notes, const std::vector<std::string>& more)
{
    for (const auto& note : more)
        if (std::find (notes.begin(), notes.end(), note) == notes.end())
            notes.push_back (note);
}
} // namespace

const std::vector<Format>& exportFormats()
{
    static const std::vector<Format> formats = []
    {
        std::vector<Format> list;
        for (const auto& maker : exportMakers())
            list.push_back (maker.format);
        return list;
    }();
    return formats;
}

std::string hitListText (const spotting::BookTimes& times)
{
    return exchange::writeHitList (times, {}).parts.front().bytes;
}

Result<Exported> exportBook (const OpenBook& open, const std::string& format, const std::string& path, const ExportWish& wish,
                             const Progress& progress)
{
    const auto maker =
        std::find_if (exportMakers().begin(), exportMakers().end(), [&] (const ExportMaker& m) { return m.format.name == format; });
    if (maker == exportMakers().end())
    {
        std::string names;
        for (const auto& known : exportFormats())
            names += (names.empty() ? "" : ", ") + known.name;
        return usageError ("format " + format, "is not known; use one of: " + names);
    }
    const auto times = spotting::timesOf (open.book, wish.asked);
    if (! times)
        return times.error();
    ExportPictures pictures (open);
    if (const auto fetched = pictures.fetch (*times, { maker->pictures }, progress); ! fetched)
        return fetched.error();
    if (const auto& parent = times->timings.edition().parent; maker->pictures == PicturesOf::recut && ! parent.empty())
    {
        auto asked = wish.asked;
        asked.edition = parent;
        const auto before = spotting::timesOf (open.book, asked);
        if (! before)
            return before.error();
        if (const auto fetched = pictures.fetch (*before, { PicturesOf::recut }, progress); ! fetched)
            return fetched.error();
    }
    auto exported = writeParts (*maker, { open, *times, wish, pictures, progress }, path);
    if (exported)
    {
        addOnce (exported->notes, times->notes);
        addOnce (exported->notes, pictures.notes());
    }
    return exported;
}

Result<Exported> exportAll (const OpenBook& open, const std::string& folder, const ExportWish& wish, const Progress& progress)
{
    const MemoryGivenBack afterwards;
    const auto times = spotting::timesOf (open.book, wish.asked);
    if (! times)
        return times.error();
    std::vector<const ExportMaker*> wanted;
    for (const auto& maker : exportMakers())
        if (wish.only.empty() ? maker.format.inAll
                              : std::find (wish.only.begin(), wish.only.end(), maker.format.name) != wish.only.end())
            wanted.push_back (&maker);
    ExportPictures pictures (open);
    std::vector<PicturesOf> which;
    for (const auto* maker : wanted)
        which.push_back (maker->pictures);
    if (const auto fetched = pictures.fetch (*times, which, progress); ! fetched)
        return fetched.error();
    std::error_code failed;
    fs::create_directories (folder, failed);
    if (failed)
        return cannotWrite (folder, "the folder can't be made (" + failed.message() + "); choose another");
    const auto written = writeSideBySide (wanted, { open, *times, wish, pictures, progress }, folder);
    Exported all;
    addOnce (all.notes, times->notes);
    addOnce (all.notes, pictures.notes());
    for (std::size_t i = 0; i < wanted.size(); ++i)
    {
        const auto& exported = written[i];
        if (! exported && exported.error().code == ErrorCode::usage)
        {
            all.notes.push_back (wanted[i]->format.file + " was left out: " + exported.error().text());
            continue;
        }
        if (! exported)
            return exported.error();
        all.files.insert (all.files.end(), exported->files.begin(), exported->files.end());
        addOnce (all.notes, exported->notes);
    }
    return all;
}
} // namespace shutterbeat::desk
