#include "desk/Import.h"

#include "desk/Chapters.h"
#include "desk/ImportFiles.h"
#include "store/WholeFile.h"

#include <algorithm>
#include <fstream>

namespace shutterbeat::desk
{
namespace
{
/// A format brings hits, or does something of its own.
struct Reader
{
    ImportFormat format;
    HitFile hits = nullptr;
    Result<Done> (*other) (const OpenBook&, std::string_view, const ImportWish&, ImportPlan&) = nullptr;
};

/// A list as text, else a movie with chapters in it.
bool isChapterList (const std::string& path)
{
    std::ifstream file (path, std::ios::binary);
    std::string begin (64, '\0');
    file.read (begin.data(), 64);
    begin.resize (static_cast<std::size_t> (file.gcount()));
    // A file that can't be opened, or is no movie either, gets the list reader's complaint.
    return begin.empty() || begin.find (";FFMETADATA") <= 3
           || std::all_of (begin.begin(), begin.end(),
                           [] (char c) { return c == '\t' || c == '\r' || c == '\n' || (c >= ' ' && c != 127); });
}

const std::vector<Reader>& readers()
{
    static const std::vector<Reader> all{
        { { "csv", "hits of a table (CSV or TSV, any separator and decimal sign)" }, hitsOfCsv, nullptr },
        { { "cues-csv", "cues of a table" }, nullptr, importCues },
        { { "cmx3600", "hits of a CMX3600 list: our comments, and locator comments of other systems" }, hitsOfCmx, nullptr },
        { { "otio", "markers of an OpenTimelineIO timeline, nested ones too" }, hitsOfOtio, nullptr },
        { { "cards", "wordings of cards from WebVTT or SubRip" }, nullptr, importWordings },
        { { "chapters", "chapters of an FFmpeg metadata file or inside a movie, as hits" }, hitsOfChapters, nullptr },
        { { "wav", "cue points of a WAV file, placed by its time stamp" }, hitsOfWav, nullptr },
        { { "reply", "what the reader of the web page said: hits added, accepted, refused, weighted, and words" },
          nullptr,
          importReply },
    };
    return all;
}
} // namespace

const std::vector<ImportFormat>& importFormats()
{
    static const std::vector<ImportFormat> formats = []
    {
        std::vector<ImportFormat> list;
        for (const auto& reader : readers())
            list.push_back (reader.format);
        return list;
    }();
    return formats;
}

std::size_t ImportPlan::count (ImportChange::Kind kind) const
{
    return static_cast<std::size_t> (
        std::count_if (changes.begin(), changes.end(), [kind] (const ImportChange& change) { return change.kind == kind; }));
}

Result<ImportPlan> planImport (const OpenBook& open, const std::string& format, std::string_view bytes, const ImportWish& wish)
{
    const auto reader =
        std::find_if (readers().begin(), readers().end(), [&] (const Reader& r) { return r.format.name == format; });
    if (reader == readers().end())
    {
        std::string names;
        for (const auto& known : importFormats())
            names += (names.empty() ? "" : ", ") + known.name;
        return usageError ("format " + format, "can't be imported; use one of: " + names);
    }
    ImportPlan plan;
    plan.book = open.book;
    if (reader->other != nullptr)
    {
        if (const auto done = reader->other (open, bytes, wish, plan); ! done)
            return done.error();
    }
    else
    {
        auto hits = reader->hits (open, bytes, wish, plan);
        if (! hits)
            return hits.error();
        const auto timings = spotting::timingsOf (open.book);
        if (! timings)
            return timings.error();
        if (const auto done = mergeHits (plan, *timings, std::move (*hits), wish.person); ! done)
            return done.error();
    }
    std::stable_sort (plan.bad.begin(), plan.bad.end(),
                      [] (const exchange::BadLine& a, const exchange::BadLine& b) { return a.line < b.line; });
    return plan;
}

Result<ImportPlan> planImportFile (const OpenBook& open, const std::string& format, const std::string& path, const ImportWish& wish)
{
    std::vector<std::string> notes;
    auto bytes =
        format == "chapters" && ! isChapterList (path) ? chapterListOfMovie (open, path, wish, notes) : store::readWhole (path);
    if (! bytes)
        return bytes.error();
    auto plan = planImport (open, format, *bytes, wish);
    if (plan)
        plan->notes.insert (plan->notes.begin(), notes.begin(), notes.end());
    if (plan || plan.error().code != ErrorCode::unreadable)
        return plan;
    auto error = plan.error();
    error.where = path + (error.where.empty() ? "" : ": " + error.where);
    return error;
}
} // namespace shutterbeat::desk
