#include "time/Timecode.h"

#include "time/Text.h"

#include <array>
#include <optional>

namespace shutterbeat::time
{
namespace
{
struct Fields
{
    std::int64_t hours = 0, minutes = 0, seconds = 0, frames = 0, days = 0;
    bool semicolon = false;
};

bool isDigit (char c)
{
    return c >= '0' && c <= '9';
}

std::optional<Fields> readFields (std::string_view text)
{
    Fields fields;
    text = trimmed (text);
    if (const auto open = text.find (" ("); open != std::string_view::npos)
    {
        // "(+1 day)" or "(-2 days)", as Label::shown() writes it.
        auto suffix = text.substr (open + 2);
        const auto blank = suffix.find (' ');
        if (blank == std::string_view::npos || (suffix.substr (blank) != " day)" && suffix.substr (blank) != " days)"))
            return {};
        auto number = suffix.substr (0, blank);
        if (number.empty() || (number[0] != '+' && number[0] != '-'))
            return {};
        if (number[0] == '+')
            number.remove_prefix (1);
        const auto days = parseWhole (number);
        if (! days || *days > 1000 || *days < -1000)
            return {};
        fields.days = *days;
        text = text.substr (0, open);
    }
    std::string separators;
    std::array<std::int64_t*, 4> targets{ &fields.hours, &fields.minutes, &fields.seconds, &fields.frames };
    for (std::size_t i = 0; i < 4; ++i)
    {
        const auto end = i < 3 ? text.find_first_of (":;") : text.size();
        if (end == std::string_view::npos || end < 1 || end > 2)
            return {};
        const auto value = parseWhole (text.substr (0, end));
        if (! value || ! isDigit (text[0]))
            return {};
        *targets[i] = *value;
        if (i < 3)
        {
            separators += text[end];
            text.remove_prefix (end + 1);
        }
    }
    // A semicolon belongs before the frames, or everywhere.
    fields.semicolon = separators.back() == ';';
    if (separators != ":::" && separators != "::;" && separators != ";;;")
        return {};
    return fields;
}

std::int64_t droppedPerMinute (std::int64_t labelsASecond, bool dropFrame)
{
    return dropFrame ? labelsASecond / 15 : 0;
}

std::string fieldsText (std::int64_t seconds, std::int64_t frames, bool dropFrame)
{
    return padded (seconds / 3600, 2) + ":" + padded (seconds / 60 % 60, 2) + ":" + padded (seconds % 60, 2)
           + (dropFrame ? ";" : ":") + padded (frames, 2);
}

std::int64_t droppedPerMinute (const Rate& rate)
{
    return droppedPerMinute (labelsPerSecond (rate), rate.dropFrame);
}
} // namespace

std::string Label::shown() const
{
    if (days == 0)
        return text;
    const std::string count = days > 0 ? "+" + std::to_string (days) : std::to_string (days);
    return text + " (" + count + (days == 1 || days == -1 ? " day)" : " days)");
}

std::int64_t labelsPerDay (const Rate& rate)
{
    const std::int64_t base = labelsPerSecond (rate);
    return base * 86400 - droppedPerMinute (rate) * 9 * 144;
}

Label labelOf (std::int64_t count, const Rate& rate)
{
    const std::int64_t base = labelsPerSecond (rate);
    const std::int64_t day = labelsPerDay (rate);
    if (day == 0)
        return { "", 0 };
    Label label;
    label.days = count / day;
    std::int64_t n = count % day;
    if (n < 0)
    {
        --label.days;
        n += day;
    }

    const std::int64_t dropped = droppedPerMinute (rate);
    if (dropped > 0)
    {
        // SMPTE ST 12-1 as in handbook 1.2: put the left-out numbers back, then count as if none were missing.
        const std::int64_t tenMinutes = base * 600 - 9 * dropped;
        const std::int64_t minute = base * 60 - dropped;
        const std::int64_t tens = n / tenMinutes;
        const std::int64_t rest = n % tenMinutes;
        n += 9 * dropped * tens + (rest < dropped ? 0 : dropped * ((rest - dropped) / minute));
    }
    const std::int64_t seconds = n / base;
    label.text = fieldsText (seconds, n % base, rate.dropFrame);
    return label;
}

Result<Reading<std::int64_t>> parseLabel (std::string_view text, const Rate& rate, LabelReading how)
{
    const auto bad = [&] (const std::string& why) { return usageError ("timecode \"" + std::string (text) + "\"", why); };

    if (! hasTimecode (rate))
        return bad ("a rate of " + rateName (rate) + " has no timecode; give a film frame, feet or seconds instead");
    const auto fields = readFields (text);
    if (! fields)
        return bad ("is not a label; write hh:mm:ss:ff");
    const std::int64_t base = labelsPerSecond (rate);
    Reading<std::int64_t> reading{ 0, "" };
    bool dropFrame = rate.dropFrame;
    if (fields->semicolon && ! rate.dropFrame)
    {
        if (how == LabelReading::typed)
            return bad ("has the semicolon of drop-frame, but " + rateName (rate) + " counts without it; write it with a colon");
        // Whoever wrote a semicolon into a file that counts 30 or 60 to the second counted drop-frame, even on true 30/1
        // media; where drop-frame can't be counted at all the flag is a mistake.
        dropFrame = base % 30 == 0;
        reading.note = "the label " + std::string (text) + " is written as drop-frame, which " + rateName (rate)
                       + (dropFrame ? " does not call for; it is read as it is written" : " does not have; it is read as non-drop");
    }
    const std::int64_t mostHours = how == LabelReading::media ? 99 : 23;
    if (fields->hours > mostHours)
        return bad ("does not exist; the hours go from 00 to 23");
    if (fields->minutes > 59 || fields->seconds > 59)
        return bad ("does not exist; minutes and seconds go from 00 to 59");
    if (fields->frames >= base)
        return bad ("does not exist at " + rateName (rate) + "; the frames go from 00 to " + padded (base - 1, 2));
    const std::int64_t dropped = droppedPerMinute (base, dropFrame);
    if (dropped > 0 && fields->minutes % 10 != 0 && fields->seconds == 0 && fields->frames < dropped)
        return bad ("does not exist in drop-frame; the next label is " + padded (fields->hours, 2) + ":"
                    + padded (fields->minutes, 2) + ":00;" + padded (dropped, 2));
    const std::int64_t minutes = fields->hours * 60 + fields->minutes;
    const std::int64_t day = base * 86400 - dropped * 9 * 144;
    reading.value =
        base * (minutes * 60 + fields->seconds) + fields->frames - dropped * (minutes - minutes / 10) + fields->days * day;
    return reading;
}

Result<std::string> nextLegalLabel (std::string_view text, const Rate& rate)
{
    auto fields = readFields (text);
    if (! fields || ! hasTimecode (rate) || fields->hours > 23 || fields->minutes > 59 || fields->seconds > 59)
        return usageError ("timecode \"" + std::string (text) + "\"", "is not a label; write hh:mm:ss:ff");
    const std::int64_t base = labelsPerSecond (rate);
    std::int64_t total = (fields->hours * 60 + fields->minutes) * 60 + fields->seconds;
    std::int64_t frames = fields->frames;
    if (frames >= base)
    {
        frames = 0;
        ++total;
    }
    const std::int64_t days = fields->days + total / 86400;
    total %= 86400;
    const std::int64_t dropped = droppedPerMinute (rate);
    if (total / 60 % 10 != 0 && total % 60 == 0 && frames < dropped)
        frames = dropped;
    return Label{ fieldsText (total, frames, rate.dropFrame), days }.shown();
}

Rate halfLabelRate (const Rate& rate)
{
    if (! hasTimecode (rate) || labelsPerSecond (rate) <= 30)
        return rate;
    return { rate.perSecond / Rational (2), rate.dropFrame };
}
} // namespace shutterbeat::time
