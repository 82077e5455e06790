#include "exchange/TimedText.h"

#include "exchange/PlainText.h"
#include "time/Clock.h"
#include "time/Reach.h"
#include "time/Text.h"

#include <algorithm>
#include <cstring>
#include <iterator>
#include <set>

namespace shutterbeat::exchange
{
namespace
{
using time::Rational;

/// No blank lines, no line ends at either end: a blank line would end the text.
std::string solid (const std::string& text)
{
    std::string lines;
    for (const auto& line : linesOf (text))
        if (const auto words = time::trimmed (line); ! words.empty())
            lines += (lines.empty() ? "" : "\n") + oneLine (words);
    return lines;
}

std::string escaped (const std::string& text)
{
    std::string safe;
    for (const char c : text)
        safe += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '>' ? "&gt;" : std::string (1, c);
    return safe;
}

std::string unescaped (const std::string& text)
{
    const std::pair<const char*, const char*> signs[]{ { "&lt;", "<" }, { "&gt;", ">" }, { "&nbsp;", "\xC2\xA0" },
                                                       { "&lrm;", "" }, { "&rlm;", "" }, { "&amp;", "&" } };
    std::string plain;
    for (std::size_t i = 0; i < text.size();)
    {
        const auto sign = std::find_if (std::begin (signs), std::end (signs),
                                        [&] (const auto& s) { return text.compare (i, std::strlen (s.first), s.first) == 0; });
        plain += sign == std::end (signs) ? std::string (1, text[i]) : sign->second;
        i += sign == std::end (signs) ? 1 : std::strlen (sign->first);
    }
    return plain;
}

bool isMark (char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '/';
}

/// Without <i>, <c.name>, {\an8} and the like; a lone < stays.
std::string withoutMarks (const std::string& text)
{
    // What closes a mark lies before the last of its kind; beyond that nothing need be looked for, however many open.
    const auto lastAngle = text.rfind ('>'), lastBrace = text.rfind ('}');
    const auto before = [] (std::size_t i, std::size_t last) { return last != std::string::npos && i < last; };
    std::string plain;
    for (std::size_t i = 0; i < text.size(); ++i)
    {
        const bool angle = text[i] == '<' && i + 1 < text.size() && isMark (text[i + 1]) && before (i, lastAngle);
        const bool brace = text[i] == '{' && i + 1 < text.size() && text[i + 1] == '\\' && before (i, lastBrace);
        if (angle || brace)
            i = text.find (angle ? '>' : '}', i);
        else
            plain += text[i];
    }
    return plain;
}

struct Texts
{
    std::vector<TimedText> texts;
    bool early = false; ///< one lay before picture start
};

class Collector
{
public:
    Collector (const spotting::BookTimes& bookTimes, std::size_t whichReel)
        : times (bookTimes)
        , timings (bookTimes.timings)
        , reel (whichReel)
    {
    }

    Texts cards()
    {
        const auto& edition = timings.edition();
        const auto end = reel + 1 < edition.reels.size() ? edition.reels[reel + 1].firstShot : edition.shots.size();
        for (std::size_t i = edition.reels[reel].firstShot; i < end; ++i)
        {
            const auto& shot = edition.shots[i];
            if (shot.kind != film::ShotKind::card)
                continue;
            const auto in = timings.times (timings.shotHead (i)).delivered;
            const auto out = i + 1 < end ? timings.times (timings.shotHead (i + 1)).delivered : timings.deliveredLength (reel);
            if (out > in)
                add (shot.id, timings.clockOf (in), timings.clockOf (out),
                     shot.wording.empty() ? "[card " + shot.name + "]" : shot.wording);
        }
        return std::move (found);
    }

    Texts hits()
    {
        std::vector<const spotting::HitTimes*> rows;
        for (const auto& row : times.hits)
            if (row.at && row.at->reel == reel)
                rows.push_back (&row);
        for (std::size_t i = 0; i < rows.size(); ++i)
        {
            const auto& hit = rows[i]->hit;
            const auto start = rows[i]->at->clock;
            auto end = start + Rational (1);
            for (std::size_t k = i + 1; k < rows.size(); ++k)
                if (rows[k]->at->clock > start)
                {
                    end = std::min (end, rows[k]->at->clock);
                    break;
                }
            add (hit.id, start, end,
                 std::string (spotting::hitKindName (hit.kind)) + ", " + std::string (spotting::weightName (hit.weight))
                     + (hit.label.empty() ? "" : "\n" + hit.label));
        }
        return std::move (found);
    }

private:
    void add (const std::string& id, Rational start, Rational end, const std::string& text)
    {
        if (start.sign() < 0)
        {
            found.early = true;
            end = std::max (end, Rational (0)) + (end.sign() <= 0 ? Rational (1) : Rational (0));
            start = Rational (0);
        }
        auto own = id;
        for (int again = 2; ! ids.insert (own).second; ++again)
            own = id + "-" + std::to_string (again);
        found.texts.push_back ({ 1, own, start, end, solid (text) });
    }

    const spotting::BookTimes& times;
    const film::Timings& timings;
    std::size_t reel;
    Texts found;
    std::set<std::string> ids;
};

std::string stamp (const Rational& seconds, char sign)
{
    auto text = time::longClockText (seconds, 3);
    std::replace (text.begin(), text.end(), '.', sign);
    return text;
}

using Layout = std::string (*) (const std::vector<TimedText>&, const std::string& about);

std::string vttText (const std::vector<TimedText>& texts, const std::string& about)
{
    std::string file = "WEBVTT\n\nNOTE " + escaped (about) + "\n";
    for (const auto& text : texts)
        file +=
            "\n" + text.id + "\n" + stamp (text.start, '.') + " --> " + stamp (text.end, '.') + "\n" + escaped (text.text) + "\n";
    return file;
}

std::string srtText (const std::vector<TimedText>& texts, const std::string&)
{
    std::string file;
    std::size_t number = 0;
    for (const auto& text : texts)
    {
        auto words = text.text;
        // An arrow would be taken for times.
        for (auto at = words.find ("-->"); at != std::string::npos; at = words.find ("-->", at > 0 ? at - 1 : 0))
            words.replace (at, 3, "->");
        file += std::to_string (++number) + "\r\n" + stamp (text.start, ',') + " --> " + stamp (text.end, ',') + "\r\n";
        for (const auto line : time::splitAt (words, '\n'))
            file += std::string (line) + "\r\n";
        file += "\r\n";
    }
    return file;
}

Written write (const spotting::BookTimes& times, const ListHead& head, TimedWhat what, Layout layout)
{
    Written written;
    const auto reels = times.timings.reelCount();
    for (std::size_t reel = 0; reel < reels; ++reel)
    {
        Collector collector (times, reel);
        auto texts = what == TimedWhat::cards ? collector.cards() : collector.hits();
        const auto start = times.timings.timecodeOf (0, reel);
        const std::string about = oneLine (fromUtf8OrLatin1 (head.title)) + (head.title.empty() ? "edition " : ", edition ")
                                  + times.timings.edition().letter + ", " + spotting::basisText (times.timings)
                                  + (start.empty() ? "" : ", picture starts at " + start) + oneLine (head.stampText());
        written.parts.push_back ({ reels > 1 ? "-reel" + std::to_string (reel + 1) : "", layout (texts.texts, about) });
        if (texts.early)
            written.notes.push_back ("timed texts can't lie before picture start: those that do stand at zero");
    }
    return written;
}

/// "01:02:03.4", "02:03,400".
std::optional<Rational> readStamp (std::string_view text)
{
    std::string clean (time::trimmed (text));
    std::replace (clean.begin(), clean.end(), ',', '.');
    const auto fields = time::splitAt (clean, ':');
    if (fields.size() < 2 || fields.size() > 3)
        return {};
    Rational seconds;
    for (std::size_t i = 0; i < fields.size(); ++i)
    {
        const bool last = i + 1 == fields.size();
        const auto whole = time::parseWhole (fields[i]);
        const auto value = last    ? time::parseRational (fields[i])
                           : whole ? Result<Rational> (Rational (*whole))
                                   : unreadable ("", "");
        if (! value || value->sign() < 0 || (i > 0 && *value >= Rational (60)) || fields[i].find ('/') != std::string_view::npos)
            return {};
        seconds = seconds * Rational (60) + *value;
    }
    if (! time::withinReach (seconds))
        return {};
    return seconds;
}
} // namespace

Written writeWebVtt (const spotting::BookTimes& times, const ListHead& head, TimedWhat what)
{
    return write (times, head, what, vttText);
}

Written writeSrt (const spotting::BookTimes& times, const ListHead& head, TimedWhat what)
{
    return write (times, head, what, srtText);
}

Result<TimedTexts> readTimedTexts (std::string_view bytes)
{
    const auto lines = linesOf (bytes);
    const bool vtt = time::startsWith (lines[0], "WEBVTT");
    TimedTexts found;
    for (std::size_t i = 0; i < lines.size();)
    {
        // A block ends at a blank line.
        std::size_t end = i;
        while (end < lines.size() && ! time::trimmed (lines[end]).empty())
            ++end;
        std::size_t arrow = i;
        while (arrow < end && lines[arrow].find ("-->") == std::string::npos)
            ++arrow;
        const bool other = vtt && end > i
                           && (time::startsWith (lines[i], "WEBVTT") || time::startsWith (lines[i], "NOTE")
                               || time::startsWith (lines[i], "STYLE") || time::startsWith (lines[i], "REGION"));
        const auto line = static_cast<std::int64_t> (i) + 1;
        if (end > i && ! other)
        {
            if (arrow == end)
                found.bad.push_back ({ line, "has no times; a line such as 00:00:01.000 --> 00:00:02.000 is needed" });
            else
            {
                const auto& stampLine = lines[arrow];
                const auto at = stampLine.find ("-->");
                auto rest = std::string (time::trimmed (std::string_view (stampLine).substr (at + 3)));
                rest = rest.substr (0, rest.find_first_of (" \t"));
                const auto from = readStamp (std::string_view (stampLine).substr (0, at)), to = readStamp (rest);
                if (! from || ! to)
                    found.bad.push_back ({ static_cast<std::int64_t> (arrow) + 1, "its times can't be read" });
                else if (*to <= *from)
                    found.bad.push_back ({ static_cast<std::int64_t> (arrow) + 1, "ends before it begins" });
                else
                {
                    TimedText text{ static_cast<std::int64_t> (arrow) + 1,
                                    arrow > i ? std::string (time::trimmed (lines[arrow - 1])) : "", *from, *to, "" };
                    for (std::size_t k = arrow + 1; k < end; ++k)
                        text.text += (k > arrow + 1 ? "\n" : "") + std::string (time::trimmed (lines[k]));
                    text.text = withoutMarks (text.text);
                    if (vtt)
                        text.text = unescaped (text.text);
                    found.texts.push_back (std::move (text));
                }
            }
        }
        i = end + 1;
    }
    if (found.texts.empty())
        return unreadable ("timed texts", "hold no text with times; WebVTT (.vtt) and SubRip (.srt) are read");
    return found;
}
} // namespace shutterbeat::exchange
