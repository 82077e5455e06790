#include "desk/FindFilms.h"

#include "media/Identity.h"
#include "time/Text.h"

#include <filesystem>
#include <map>

namespace shutterbeat::desk
{
namespace fs = std::filesystem;

namespace
{
std::string lowerName (const fs::path& path)
{
    return time::lowerAscii (path.filename().string());
}

std::string identityOf (const OpenBook& open, const MissingFilm& missing)
{
    for (const auto& print : open.book.prints)
        if (print.id == missing.print && missing.reel < print.reels.size())
            return missing.workingCopy ? print.reels[missing.reel].workingIdentity : print.reels[missing.reel].identity;
    return "";
}

/// All files below a folder. Folders that may not be read are passed over; where more is left out, `notes` says so.
Result<std::vector<fs::path>> filesBelow (const std::string& folder, std::vector<std::string>& notes, const Progress& progress)
{
    std::error_code failed;
    fs::recursive_directory_iterator at (folder, fs::directory_options::skip_permission_denied, failed);
    if (failed)
        return unreadable (folder, "is no folder that can be looked through: " + failed.message());
    constexpr std::size_t most = 500'000;
    std::vector<fs::path> files;
    while (at != fs::recursive_directory_iterator() && files.size() < most)
    {
        std::error_code unknown;
        if (at->is_regular_file (unknown) && ! unknown)
            files.push_back (at->path());
        if (progress && files.size() % 256 == 0 && ! progress (0.2, "looking through " + at->path().parent_path().string()))
            return Error{ ErrorCode::cancelled, folder, "looking was stopped; nothing was changed" };
        at.increment (failed);
        if (failed)
        {
            notes.push_back (folder + " could be looked through only in part: " + failed.message());
            break;
        }
    }
    if (files.size() == most)
        notes.push_back (folder + " holds more than " + std::to_string (most)
                         + " files; the others were not looked at. Name a folder in it");
    return files;
}
} // namespace

Result<FoundFilms> findFilms (const OpenBook& open, const std::vector<MissingFilm>& missing, const std::string& folder,
                              const Progress& progress)
{
    FoundFilms outcome;
    const auto files = filesBelow (folder, outcome.notes, progress);
    if (! files)
        return files.error();
    // Each file is read once, however many films are missing.
    std::map<fs::path, std::string> identities;
    const auto identityIn = [&] (const fs::path& file) -> const std::string&
    {
        const auto [entry, fresh] = identities.try_emplace (file);
        if (fresh)
            if (auto identity = media::fileIdentity (file.string()))
                entry->second = std::move (*identity);
        return entry->second;
    };
    OpenBook linked = open;
    std::size_t done = 0;
    for (const auto& gone : missing)
    {
        const auto wantedName = lowerName (gone.path);
        const auto wantedEnding = time::lowerAscii (fs::path (gone.path).extension().string());
        const auto wanted = identityOf (open, gone);
        bool found = false;
        const auto take = [&] (const fs::path& file)
        {
            auto book = relink (linked, gone, file.string());
            if (book)
            {
                linked.book = std::move (*book);
                outcome.found.push_back (file.string());
                found = true;
            }
            return book;
        };
        for (const bool byName : { true, false })
            for (const auto& file : *files)
            {
                if (found)
                    break;
                const bool named = lowerName (file) == wantedName;
                if (named != byName || (! named && time::lowerAscii (file.extension().string()) != wantedEnding))
                    continue;
                if (progress
                    && ! progress (0.2 + 0.8 * static_cast<double> (done) / static_cast<double> (missing.size()), file.string()))
                    return Error{ ErrorCode::cancelled, folder, "looking was stopped; nothing was changed" };
                if (! wanted.empty() && identityIn (file) == wanted)
                    (void)take (file);
                else if (named)
                {
                    // The same name with other bytes: a copy made anew may serve, another film may not.
                    if (const auto book = take (file); ! book)
                        outcome.notes.push_back (book.error().text());
                }
            }
        if (! found)
            outcome.missing.push_back (gone.path);
        ++done;
    }
    outcome.prints = linked.book.prints.list();
    return outcome;
}
} // namespace shutterbeat::desk
