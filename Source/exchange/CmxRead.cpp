#include "exchange/CmxRead.h"

#include "exchange/PlainText.h"
#include "time/Text.h"
#include "time/Timecode.h"

#include <algorithm>
#include <map>

namespace shutterbeat::exchange
{
namespace
{
std::vector<std::string> wordsOf (std::string_view text)
{
    constexpr std::string_view blanks = " \t";
    std::vector<std::string> words;
    for (;;)
    {
        text.remove_prefix (std::min (text.find_first_not_of (blanks), text.size()));
        if (text.empty())
            return words;
        const auto end = std::min (text.find_first_of (blanks), text.size());
        words.emplace_back (text.substr (0, end));
        text.remove_prefix (end);
    }
}

bool allDigits (const std::string& text)
{
    return ! text.empty() && std::all_of (text.begin(), text.end(), [] (char c) { return c >= '0' && c <= '9'; });
}

/// The text after `head`, whatever its case; nothing when it does not begin so.
std::optional<std::string> after (std::string_view text, std::string_view head)
{
    if (time::lowerAscii (text.substr (0, head.size())) != head)
        return {};
    return std::string (time::trimmed (text.substr (head.size())));
}

/// Lines that other systems write and that say nothing about pictures.
bool passedOver (const std::string& lower)
{
    for (const char* head : { "rem", "aud", "effects name", "split", "gpi", "m/s", "trigger", "final cut pro", "dledl",
                              "source file", "from clip", "to clip", "fade", "asc_", "key clip", "clip name", ">>>" })
        if (time::startsWith (lower, head))
            return true;
    return false;
}

class ListReader
{
public:
    ListReader (CmxList& result)
        : list (result)
        , labels (result.rate)
    {
        canDrop = time::parseRate (time::rateName ({ list.rate.perSecond, false }) + "df").ok();
    }

    void readLine (std::string_view text, std::int64_t line)
    {
        text = time::trimmed (text);
        if (text.empty() || text == "\x1A")
            return;
        if (const auto title = after (text, "title:"))
            list.title = *title;
        else if (const auto mode = after (text, "fcm:"))
            readMode (*mode, line);
        else if (text[0] == '*')
            readComment (text, line);
        else if (const auto words = wordsOf (text); allDigits (words[0]))
            readEvent (words, line);
        else if (time::lowerAscii (words[0]) == "m2")
            readSpeed (words, line);
        else if (passedOver (time::lowerAscii (text)))
            readNote (text);
        else
            list.bad.push_back ({ line, "is neither an event, a comment (*), a speed line (M2) nor a heading" });
    }

    void finish()
    {
        if (sawDrop && sawNonDrop)
            list.warnings.push_back ("the list counts drop-frame in some places and non-drop in others; systems differ in whether "
                                     "FCM means source or record labels, so look at the events on either side of the change");
        for (std::size_t i = 0; i < list.events.size(); ++i)
            checkEvent (i);
        std::stable_sort (list.bad.begin(), list.bad.end(), [] (const BadLine& a, const BadLine& b) { return a.line < b.line; });
    }

private:
    void readMode (const std::string& mode, std::int64_t line)
    {
        const auto lower = time::lowerAscii (mode);
        const bool drop = lower.find ("non") == std::string::npos;
        if (lower.find ("drop") == std::string::npos)
            return list.bad.push_back ({ line, "FCM is neither DROP FRAME nor NON-DROP FRAME" });
        if (drop && ! canDrop)
            return list.warnings.push_back ("line " + std::to_string (line) + " says FCM: " + mode + ", which "
                                            + time::rateName (list.rate) + " does not have; it is read without");
        labels.dropFrame = drop;
        (drop ? sawDrop : sawNonDrop) = true;
        if (drop != list.rate.dropFrame && list.events.empty() && ! saidMode)
        {
            saidMode = true;
            list.warnings.push_back ("line " + std::to_string (line) + " says FCM: " + mode + ", and the list is read so, not at "
                                     + time::rateName (list.rate));
        }
    }

    void readEvent (const std::vector<std::string>& words, std::int64_t line)
    {
        const auto fail = [&] (const std::string& why) { list.bad.push_back ({ line, why }); };
        if (words.size() < 8)
            return fail ("has " + std::to_string (words.size()) + " fields where an event has 8, or 9 with a transition");
        CmxEvent event;
        event.line = line;
        event.number = time::parseWhole (words[0]).value_or (0);
        event.dropFrame = labels.dropFrame;
        std::size_t at = words.size() - 5; // the last field before the timecodes
        if (at >= 4 && allDigits (words[at]))
            event.transitionFrames = time::parseWhole (words[at--]).value_or (0);
        event.transitionCode = words[at];
        if (at >= 4 && (words[at] == "B" || words[at] == "O") && time::lowerAscii (words[at - 1]) == "k")
        {
            event.transitionCode = words[at - 1] + words[at];
            --at;
        }
        const auto code = time::lowerAscii (event.transitionCode);
        if (code == "c")
            event.transition = CmxTransition::cut;
        else if (code == "d")
            event.transition = CmxTransition::dissolve;
        else if (code[0] == 'w' && allDigits (code.substr (1)))
            event.transition = CmxTransition::wipe;
        else if (code == "k" || code == "kb" || code == "ko")
            event.transition = CmxTransition::key;
        else
            return fail ("transition \"" + event.transitionCode + "\" is not known; C, D, Wnnn, K, KB and KO are");
        if (at < 3)
            return fail ("has no reel or no channel");
        event.channel = words[at - 1];
        event.reel = words[1];
        for (std::size_t i = 2; i + 1 < at; ++i)
            event.reel += " " + words[i];
        std::int64_t* const counts[]{ &event.sourceIn, &event.sourceOut, &event.recordIn, &event.recordOut };
        for (std::size_t i = 0; i < 4; ++i)
        {
            const auto label = time::parseLabel (words[words.size() - 4 + i], labels);
            if (! label)
                return fail (label.error().text());
            *counts[i] = label->value;
        }
        // A list may pass midnight: an out before its in is on the next day.
        const auto day = time::labelsPerDay (labels);
        if (event.sourceOut < event.sourceIn)
            event.sourceOut += day;
        if (event.recordOut < event.recordIn)
            event.recordOut += day;
        if (event.length() > day / 2)
            return fail ("its record out lies before its record in");
        lastOfReel[time::lowerAscii (event.reel)] = list.events.size();
        list.events.push_back (std::move (event));
    }

    void readSpeed (const std::vector<std::string>& words, std::int64_t line)
    {
        if (words.size() < 4)
            return list.bad.push_back ({ line, "a speed line has M2, reel, frames a second and a timecode" });
        const std::string& text = words[words.size() - 2];
        std::string number = text[0] == '+' ? text.substr (1) : text;
        std::string sign;
        if (number[0] == '-')
        {
            sign = "-";
            number.erase (0, 1);
        }
        // "036.0": the zeros in front are only for the columns.
        number.erase (0, std::min (number.find_first_not_of ('0'), number.size()));
        if (number.empty() || number[0] == '.')
            number.insert (0, "0");
        if (number.back() == '.')
            number += "0";
        const auto speed = time::parseRational (sign + number);
        std::string reel = words[1];
        for (std::size_t i = 2; i + 2 < words.size(); ++i)
            reel += " " + words[i];
        if (! speed)
            return list.bad.push_back ({ line, "speed \"" + text + "\" is not a number of frames a second" });
        if (const auto event = lastOfReel.find (time::lowerAscii (reel)); event != lastOfReel.end())
        {
            list.events[event->second].speed = CmxSpeed{ *speed, text, reel, words.back() };
            return;
        }
        list.bad.push_back ({ line, "the speed line is for reel " + reel + ", and no event before it has that reel" });
    }

    void readComment (std::string_view text, std::int64_t line)
    {
        if (list.events.empty())
            return;
        auto& event = list.events.back();
        event.comments.emplace_back (text);
        const auto inner = time::trimmed (text.substr (1));
        if (const auto from = after (inner, "from clip name:"))
            event.fromClip = *from;
        else if (const auto to = after (inner, "to clip name:"))
            event.toClip = *to;
        else if (const auto locator = after (inner, "loc:"))
        {
            auto words = wordsOf (*locator);
            const auto label = words.empty() ? Result<time::Reading<std::int64_t>> (unreadable ("LOC", "has no timecode"))
                                             : time::parseLabel (words[0], labels);
            if (! label)
                return list.bad.push_back ({ line, "locator: " + label.error().text() });
            CmxLocator found{ line, label->value, words.size() > 1 ? words[1] : "", "" };
            for (std::size_t i = 2; i < words.size(); ++i)
                found.text += (i > 2 ? " " : "") + words[i];
            list.locators.push_back (std::move (found));
        }
    }

    /// Clip names without a star are seen too.
    void readNote (std::string_view text)
    {
        if (list.events.empty())
            return;
        list.events.back().comments.emplace_back (text);
        if (const auto from = after (text, "from clip name:"))
            list.events.back().fromClip = *from;
        else if (const auto to = after (text, "to clip name:"))
            list.events.back().toClip = *to;
    }

    void checkEvent (std::size_t i)
    {
        const auto& event = list.events[i];
        const auto source = event.sourceOut - event.sourceIn;
        if (event.transition == CmxTransition::dissolve || event.transition == CmxTransition::wipe)
        {
            // The picture it comes from is a line of the same number with the same channel, just before.
            if (i == 0 || list.events[i - 1].number != event.number)
                list.bad.push_back (
                    { event.line, "its transition has no line before it with the same number that says what it comes from" });
            if (event.transitionFrames > event.length())
                list.warnings.push_back ("line " + std::to_string (event.line) + ": the transition is longer than its event");
        }
        else if (! event.speed && event.picture() && source != event.length() && event.length() > 0 && ! event.black())
            list.warnings.push_back ("line " + std::to_string (event.line) + ": " + std::to_string (source) + " source frames for "
                                     + std::to_string (event.length())
                                     + " record frames and no speed line; the record length is kept");
    }

    CmxList& list;
    time::Rate labels;
    std::map<std::string, std::size_t> lastOfReel; ///< the last event of each reel, by its name in small letters
    bool canDrop = false, sawDrop = false, sawNonDrop = false, saidMode = false;
};

std::string labelText (std::int64_t count, const time::Rate& rate)
{
    return time::labelOf (count, rate).text;
}

std::string padTo (std::string text, std::size_t width)
{
    text.resize (std::max (width, text.size()), ' ');
    return text;
}
} // namespace

bool CmxEvent::picture() const
{
    const auto lower = time::lowerAscii (channel);
    return lower.find ('v') != std::string::npos || lower == "b";
}

bool CmxEvent::black() const
{
    const auto lower = time::lowerAscii (reel);
    return lower == "bl" || lower == "black";
}

time::Rational CmxEvent::speedFactor (const time::Rate& rate) const
{
    // Speed lines count the labels of a second: 036.0 is half as fast again at 24 and at 23.976.
    return speed ? speed->framesPerSecond / time::Rational (time::labelsPerSecond (rate)) : time::Rational (1);
}

std::int64_t CmxList::start() const
{
    std::optional<std::int64_t> first;
    for (const auto& event : events)
        if (event.picture() && event.length() > 0)
            first = std::min (first.value_or (event.recordIn), event.recordIn);
    return first.value_or (0);
}

std::vector<CmxShot> CmxList::shots() const
{
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < events.size(); ++i)
        if (events[i].picture() && events[i].length() > 0 && events[i].transition != CmxTransition::key)
            order.push_back (i);
    std::stable_sort (order.begin(), order.end(),
                      [this] (std::size_t a, std::size_t b) { return events[a].recordIn < events[b].recordIn; });
    std::vector<CmxShot> found;
    const auto zero = start();
    std::int64_t at = 0;
    for (const auto i : order)
    {
        const auto& event = events[i];
        const auto in = event.recordIn - zero;
        if (in > at)
            found.push_back ({ CmxShot::Kind::hole, at, in - at, {} });
        const auto from = std::max (in, at);
        if (event.recordOut - zero <= from)
            continue; // lies below what stands there already
        found.push_back ({ event.black() ? CmxShot::Kind::black : CmxShot::Kind::shot, from, event.recordOut - zero - from, i });
        at = event.recordOut - zero;
    }
    return found;
}

Result<CmxList> readCmxList (std::string_view bytes, const time::Rate& rate)
{
    auto comments = readCmxComments (bytes, rate);
    if (! comments)
        return comments.error();
    CmxList list;
    list.rate = rate;
    list.hits = std::move (comments->hits);
    list.cues = std::move (comments->cues);
    list.bad = std::move (comments->bad);
    ListReader reader (list);
    std::int64_t number = 0;
    const auto lines = linesOf (bytes);
    for (const auto& line : lines)
        reader.readLine (line, ++number);
    reader.finish();
    if (list.events.empty())
    {
        const std::string first =
            list.bad.empty() ? "" : "; line " + std::to_string (list.bad.front().line) + " " + list.bad.front().why;
        return unreadable ("CMX3600 list", "has no event that can be read at " + time::rateName (rate) + first);
    }
    return list;
}

std::string cmxListText (const CmxList& list)
{
    constexpr const char* end = "\r\n";
    std::string text = "TITLE:   " + oneLine (list.title) + end;
    std::optional<bool> mode;
    for (const auto& event : list.events)
    {
        if (mode != event.dropFrame)
            text += std::string (event.dropFrame ? "FCM: DROP FRAME" : "FCM: NON-DROP FRAME") + end;
        mode = event.dropFrame;
        const time::Rate labels{ list.rate.perSecond, event.dropFrame };
        const std::string transition =
            padTo (event.transitionCode, 5)
            + (event.transition == CmxTransition::cut ? "   " : time::padded (event.transitionFrames, 3));
        text += time::padded (event.number, 3) + "  " + padTo (event.reel, 8) + " " + padTo (event.channel, 5) + " " + transition
                + " " + labelText (event.sourceIn, labels) + " " + labelText (event.sourceOut, labels) + " "
                + labelText (event.recordIn, labels) + " " + labelText (event.recordOut, labels) + end;
        if (event.speed)
            text +=
                "M2   " + padTo (event.speed->reel, 8) + "       " + event.speed->text + "                " + event.speed->at + end;
        for (const auto& comment : event.comments)
            text += comment + end;
    }
    return text;
}
} // namespace shutterbeat::exchange
