#include "desk/Fingerprints.h"

#include "media/GreyPass.h"
#include "media/IndexCache.h"
#include "scan/Measures.h"
#include "store/WholeFile.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;

// Raised whenever fingerprints are made otherwise.
constexpr std::string_view magic = "shutterbeat prints 2\n";
constexpr std::uintmax_t mostBytes = std::uintmax_t (1) << 30;
constexpr const char* ending = ".prints";

std::string cacheFolder()
{
    const auto index = media::indexCacheFolder();
    return index.empty() ? "" : (fs::path (index).parent_path() / "prints").string();
}

/// Where the fingerprints of a reel's film frames lie; empty where nothing can be kept.
std::string entryPath (const film::ReelFile& reel)
{
    const auto folder = cacheFolder();
    if (folder.empty() || reel.identity.empty())
        return {};
    std::string cadence;
    for (const auto& run : reel.cadence.runs())
    {
        for (const auto count : run.cycle)
            cadence += std::to_string (count) + ",";
        cadence += "x" + std::to_string (run.filmFrames) + ";";
    }
    return folder + "/" + reel.identity + "-" + store::stampOf (cadence) + ending;
}

void makeRoom (const std::string& folder)
{
    std::vector<std::pair<fs::file_time_type, fs::path>> entries;
    std::uintmax_t all = 0;
    std::error_code trouble;
    for (fs::directory_iterator at (folder, trouble), end; ! trouble && at != end; at.increment (trouble))
        if (std::error_code gone; at->path().extension() == ending)
        {
            entries.emplace_back (at->last_write_time (gone), at->path());
            all += at->file_size (gone);
        }
    std::sort (entries.begin(), entries.end());
    for (const auto& [used, path] : entries)
    {
        if (all <= mostBytes)
            break;
        all -= std::min (all, fs::file_size (path, trouble));
        fs::remove (path, trouble);
    }
}

std::optional<std::vector<scan::Fingerprint>> kept (const std::string& entry, std::int64_t frames)
{
    std::error_code trouble;
    if (entry.empty() || ! fs::exists (entry, trouble))
        return {};
    const auto bytes = store::readWhole (entry);
    if (! bytes || bytes->substr (0, magic.size()) != magic)
        return {};
    const auto line = bytes->find ('\n', magic.size());
    if (line == std::string::npos)
        return {};
    const auto rest = std::string_view (*bytes).substr (line + 1);
    if (store::stampOf (rest) != bytes->substr (magic.size(), line - magic.size()))
        return {};
    auto prints = scan::fingerprintsFrom (rest);
    if (! prints || static_cast<std::int64_t> (prints->size()) != frames)
        return {};
    fs::last_write_time (entry, fs::file_time_type::clock::now(), trouble);
    return std::move (*prints);
}

void keep (const std::string& entry, const std::vector<scan::Fingerprint>& prints)
{
    std::error_code trouble;
    if (entry.empty())
        return;
    const auto folder = fs::path (entry).parent_path();
    fs::create_directories (folder, trouble);
    const auto bytes = scan::fingerprintBytes (prints);
    if (! trouble && store::writeWhole (entry, std::string (magic) + store::stampOf (bytes) + "\n" + bytes))
        makeRoom (folder.string());
}

Result<std::vector<scan::Fingerprint>> ofReel (const std::string& path, const film::ReelFile& reel, const Progress& progress)
{
    const auto entry = entryPath (reel);
    if (auto before = kept (entry, reel.cadence.filmFrames()))
        return std::move (*before);
    std::vector<scan::Fingerprint> prints;
    prints.reserve (static_cast<std::size_t> (reel.cadence.filmFrames()));
    std::int64_t seen = 0;
    const auto files = reel.cadence.fileFrames();
    const auto looked = media::forEachGrey (
        path, scan::scanWidth, scan::scanHeight,
        [&] (std::int64_t frame, const film::GreyPicture& picture)
        {
            seen = frame + 1;
            // Of several file frames that show a film frame the first.
            const auto next = static_cast<std::int64_t> (prints.size());
            if (frame < files && next < reel.cadence.filmFrames() && frame == reel.cadence.firstFileFrame (next))
                prints.push_back (scan::fingerprintOf (picture));
            constexpr std::int64_t tellEvery = 50;
            return ! progress || frame % tellEvery != 0
                   || progress (static_cast<double> (frame) / static_cast<double> (std::max<std::int64_t> (1, files)),
                                "looking at pictures");
        });
    if (! looked)
        return looked.error();
    if (seen != files)
        return unreadable (path, "has " + std::to_string (seen) + " frames; the book was made from a file of "
                                     + std::to_string (files) + ". Relink the right one");
    keep (entry, prints);
    return prints;
}
} // namespace

Result<std::vector<scan::Fingerprint>> fingerprintsOf (const OpenBook& open, const film::Print& print, const Progress& progress)
{
    std::vector<scan::Fingerprint> all;
    for (std::size_t i = 0; i < print.reels.size(); ++i)
    {
        const auto part = [&] (double fraction, const std::string& what)
        { return ! progress || progress ((static_cast<double> (i) + fraction) / static_cast<double> (print.reels.size()), what); };
        auto prints = ofReel (filmPathForPictures (open, print.reels[i]), print.reels[i], part);
        if (! prints)
            return prints.error();
        all.insert (all.end(), prints->begin(), prints->end());
    }
    return all;
}
} // namespace shutterbeat::desk
