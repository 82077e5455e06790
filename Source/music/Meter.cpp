#include "music/Meter.h"

#include "time/Text.h"

#include <numeric>

namespace shutterbeat::music
{
namespace
{
bool isUnit (std::int64_t number)
{
    return number >= 1 && number <= 64 && (number & (number - 1)) == 0;
}
} // namespace

time::Rational barLength (const Meter& meter)
{
    return { meter.count * 4, meter.unit };
}

std::vector<time::Rational> beatLengths (const Meter& meter)
{
    const time::Rational one (4, meter.unit);
    std::vector<time::Rational> beats;
    for (const int group : meter.groups)
        beats.push_back (one * time::Rational (group));
    if (! beats.empty())
        return beats;
    const bool compound = meter.unit >= 8 && meter.count > 3 && meter.count % 3 == 0;
    const int each = compound ? 3 : 1;
    beats.assign (static_cast<std::size_t> (meter.count / each), one * time::Rational (each));
    return beats;
}

Result<Meter> parseMeter (std::string_view text)
{
    const auto wrong = [&] (const std::string& why) { return usageError ("meter \"" + std::string (text) + "\"", why); };
    auto rest = time::trimmed (text);
    Meter meter;
    const auto open = rest.find ('(');
    if (open != std::string_view::npos)
    {
        if (rest.back() != ')')
            return wrong ("has a group list that is not closed; write it as 7/8(2+2+3)");
        for (const auto part : time::splitAt (rest.substr (open + 1, rest.size() - open - 2), '+'))
        {
            const auto group = time::parseWhole (time::trimmed (part));
            if (! group || *group < 1 || *group > 64)
                return wrong ("has a group that is not a number from 1 to 64; write it as 7/8(2+2+3)");
            meter.groups.push_back (static_cast<int> (*group));
        }
        rest = time::trimmed (rest.substr (0, open));
    }
    const auto parts = time::splitAt (rest, '/');
    const auto count = time::parseWhole (time::trimmed (parts[0]));
    const auto unit = parts.size() == 2 ? time::parseWhole (time::trimmed (parts[1])) : std::nullopt;
    if (! count || ! unit || *count < 1 || *count > 64 || ! isUnit (*unit))
        return wrong ("is not one; write it as 4/4, 6/8 or 7/8(2+2+3), with 1 to 64 of a note value up to 64");
    meter.count = static_cast<int> (*count);
    meter.unit = static_cast<int> (*unit);
    if (! meter.groups.empty() && std::accumulate (meter.groups.begin(), meter.groups.end(), 0) != meter.count)
        return wrong ("has groups that do not add up to " + std::to_string (meter.count));
    return meter;
}

std::string meterText (const Meter& meter)
{
    std::string text = std::to_string (meter.count) + "/" + std::to_string (meter.unit);
    for (std::size_t i = 0; i < meter.groups.size(); ++i)
        text += (i == 0 ? "(" : "+") + std::to_string (meter.groups[i]);
    return meter.groups.empty() ? text : text + ")";
}

Result<Meter> meterOfLength (const time::Rational& quarters)
{
    for (const int unit : { 4, 8, 16, 32, 64 })
    {
        const auto count = quarters * time::Rational (unit, 4);
        if (count.isWhole() && count.sign() > 0 && count <= time::Rational (64))
            return Meter{ static_cast<int> (time::floorOf (count)), unit, {} };
    }
    return usageError ("a bar of " + time::fractionText (quarters) + " quarter notes", "has no meter");
}
} // namespace shutterbeat::music
