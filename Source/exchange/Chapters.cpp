#include "exchange/Chapters.h"

#include "exchange/PlainText.h"
#include "time/Clock.h"
#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::exchange
{
namespace
{
std::string escaped (const std::string& text)
{
    std::string safe;
    for (const char c : oneLine (fromUtf8OrLatin1 (text)))
    {
        if (std::string_view ("=;#\\").find (c) != std::string_view::npos)
            safe += '\\';
        safe += c;
    }
    return safe;
}

/// Lines that end in a backslash go on in the next; `line` is the number of the first.
struct Entry
{
    std::int64_t line = 1;
    std::string text;
};

std::vector<Entry> entriesOf (std::string_view bytes)
{
    std::vector<Entry> entries;
    bool goesOn = false;
    std::int64_t number = 0;
    for (const auto& line : linesOf (bytes))
    {
        ++number;
        if (goesOn)
            entries.back().text += "\n" + line;
        else
            entries.push_back ({ number, line });
        std::size_t slashes = 0;
        for (auto c = line.rbegin(); c != line.rend() && *c == '\\'; ++c)
            ++slashes;
        goesOn = slashes % 2 == 1;
    }
    return entries;
}

std::string unescaped (std::string_view text)
{
    std::string plain;
    for (std::size_t i = 0; i < text.size(); ++i)
    {
        if (text[i] == '\\' && i + 1 < text.size())
            ++i;
        plain += text[i];
    }
    return plain;
}

/// Key and value at the first = that is not escaped.
std::optional<std::pair<std::string, std::string>> pairOf (const std::string& text)
{
    for (std::size_t i = 0; i < text.size(); ++i)
        if (text[i] == '\\')
            ++i;
        else if (text[i] == '=')
            return std::pair{ time::lowerAscii (unescaped (std::string_view (text).substr (0, i))),
                              unescaped (std::string_view (text).substr (i + 1)) };
    return {};
}

std::string titleOf (const spotting::Cue& cue)
{
    return cue.title.empty() ? cue.number : cue.title;
}

std::string titleOf (const spotting::HitPoint& hit)
{
    return hit.label.empty() ? std::string (spotting::hitKindName (hit.kind)) : hit.label;
}
} // namespace

Result<std::vector<Chapter>> chaptersOf (const spotting::BookTimes& times, const ListHead& head, const ChapterWish& wish,
                                         std::size_t reel)
{
    std::vector<Chapter> chapters;
    std::vector<std::string> left = wish.ids;
    const auto asked = [&] (const std::string& id)
    {
        const auto found = std::find (left.begin(), left.end(), id);
        if (found == left.end())
            return false;
        left.erase (found);
        return true;
    };
    const auto end = times.timings.deliveredLength (reel);
    const auto add = [&] (const std::optional<film::PlaceTimes>& at, const std::string& title)
    {
        if (at && at->reel == reel && at->delivered >= 0 && at->delivered < end)
            chapters.push_back ({ at->delivered, oneLine (title) });
    };
    for (const auto& row : times.cues)
    {
        const bool music = row.cue.kind == spotting::CueKind::music || row.cue.kind == spotting::CueKind::seenMusic;
        if (const bool named = asked (row.cue.id); named || (wish.cues && music))
            add (row.in, titleOf (row.cue));
    }
    for (const auto& row : times.hits)
        if (asked (row.hit.id))
            add (row.at, titleOf (row.hit));
    if (! left.empty())
        return usageError ("chapter " + left.front(), "is neither the id of a cue nor of a hit");
    std::stable_sort (chapters.begin(), chapters.end(), [] (const Chapter& a, const Chapter& b) { return a.frame < b.frame; });
    std::vector<Chapter> merged;
    for (auto& chapter : chapters)
        if (! merged.empty() && merged.back().frame == chapter.frame)
            merged.back().title += " / " + chapter.title;
        else
            merged.push_back (std::move (chapter));
    if (merged.empty() || merged.front().frame > 0)
        merged.insert (merged.begin(), { 0, head.title.empty() ? "Start" : oneLine (head.title) });
    return merged;
}

std::vector<Chapter> onKeyFrames (std::vector<Chapter> chapters, const std::vector<std::int64_t>& keyFrames,
                                  const time::Rational& rate, std::vector<std::string>& notes)
{
    for (auto& chapter : chapters)
    {
        const auto after = std::upper_bound (keyFrames.begin(), keyFrames.end(), chapter.frame);
        const auto key = after == keyFrames.begin() ? 0 : *std::prev (after);
        if (key != chapter.frame)
            notes.push_back ("chapter \"" + chapter.title + "\" begins " + std::to_string (chapter.frame - key) + " frames ("
                             + time::secondsText (time::Rational (chapter.frame - key) / rate) + " s) earlier, on a key picture");
        chapter.frame = key;
    }
    return chapters;
}

Result<Written> writeChapters (const spotting::BookTimes& times, const ListHead& head, const ChapterWish& wish)
{
    Written written;
    const auto& rate = times.timings.delivery().rate.perSecond;
    const auto reels = times.timings.reelCount();
    // An id may lie in any reel: it is looked for in each, and unknown only when in none.
    for (std::size_t reel = 0; reel < reels; ++reel)
    {
        const auto chapters = chaptersOf (times, head, wish, reel);
        if (! chapters)
            return chapters.error();
        std::string text = ";FFMETADATA1\n";
        if (! head.title.empty())
            text += "title=" + escaped (head.title) + "\n";
        for (std::size_t i = 0; i < chapters->size(); ++i)
        {
            const auto next = i + 1 < chapters->size() ? (*chapters)[i + 1].frame : times.timings.deliveredLength (reel);
            text += "\n[CHAPTER]\nTIMEBASE=" + time::fractionText (time::Rational (rate.denominator(), 1)) + "/"
                    + time::fractionText (time::Rational (rate.numerator(), 1)) + "\nSTART=" + std::to_string ((*chapters)[i].frame)
                    + "\nEND=" + std::to_string (next) + "\ntitle=" + escaped ((*chapters)[i].title) + "\n";
        }
        written.parts.push_back ({ reels > 1 ? "-reel" + std::to_string (reel + 1) : "", std::move (text) });
    }
    return written;
}

std::string chapterListText (const std::vector<ListedChapter>& chapters)
{
    std::string text = ";FFMETADATA1\n";
    for (const auto& chapter : chapters)
    {
        // Each counts in its own fraction of a second: nothing is rounded.
        const time::Rational unit (1, chapter.start.denominator());
        text += "\n[CHAPTER]\nTIMEBASE=1/" + time::fractionText (time::Rational (chapter.start.denominator(), 1))
                + "\nSTART=" + time::fractionText (chapter.start / unit);
        if (chapter.end)
            text += "\nEND=" + std::to_string (time::ceilOf (*chapter.end / unit));
        text += "\ntitle=" + escaped (chapter.title) + "\n";
    }
    return text;
}

Result<ChapterList> readChapters (std::string_view bytes)
{
    const auto entries = entriesOf (bytes);
    if (! time::startsWith (entries[0].text, ";FFMETADATA"))
        return unreadable ("chapters", "are not FFmpeg metadata: the first line has to be ;FFMETADATA1");
    ChapterList list;
    struct Open
    {
        std::int64_t line;
        std::optional<time::Rational> base, start, end;
        std::string title;
    };
    std::optional<Open> open;
    bool inChapter = false, global = true;
    const auto close = [&]
    {
        if (! open)
            return;
        if (! open->base)
        {
            list.notes.push_back ("the chapter on line " + std::to_string (open->line)
                                  + " has no TIMEBASE; it is read in nanoseconds");
            open->base = time::Rational (1, 1000000000);
        }
        if (! open->start)
            list.bad.push_back ({ open->line, "the chapter has no START" });
        else if (open->end && *open->end < *open->start)
            list.bad.push_back ({ open->line, "the chapter ends before it begins" });
        else
        {
            ListedChapter chapter{ open->line, *open->start * *open->base,
                                   open->end ? std::optional (*open->end * *open->base) : std::nullopt, open->title };
            if (chapter.start.valid() && (! chapter.end || chapter.end->valid()))
                list.chapters.push_back (std::move (chapter));
            else
                list.bad.push_back ({ open->line, "the times of the chapter are out of all range" });
        }
        open.reset();
    };
    for (std::size_t i = 1; i < entries.size(); ++i)
    {
        const auto& [line, text] = entries[i];
        if (text.empty() || text[0] == ';' || text[0] == '#')
            continue;
        if (text[0] == '[')
        {
            close();
            inChapter = time::lowerAscii (time::trimmed (text)) == "[chapter]";
            global = false;
            if (inChapter)
                open = Open{ line, {}, {}, {}, "" };
            continue;
        }
        const auto pair = pairOf (text);
        if (! pair)
        {
            list.bad.push_back ({ line, "is neither a section, a comment nor key=value" });
            continue;
        }
        const auto& [key, value] = *pair;
        if (global && key == "title")
            list.title = value;
        if (! inChapter || ! open)
            continue;
        if (key == "title")
            open->title = value;
        else if (key == "timebase" || key == "start" || key == "end")
        {
            const auto number = time::parseRational (value);
            if (! number || (key == "timebase" && number->sign() <= 0))
                list.bad.push_back ({ line, key + " \"" + value + "\" is not a number" });
            else
                (key == "timebase" ? open->base : key == "start" ? open->start : open->end) = *number;
        }
    }
    close();
    return list;
}
} // namespace shutterbeat::exchange
