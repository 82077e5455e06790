#include "time/Footage.h"

#include "time/Text.h"

namespace shutterbeat::time
{
const std::vector<Gauge>& gauges()
{
    static const std::vector<Gauge> all{ { "35 mm", 16 }, { "16 mm", 40 }, { "9.5 mm", 40 }, { "8 mm", 80 }, { "Super 8", 72 } };
    return all;
}

Result<Gauge> parseGauge (std::string_view text)
{
    const auto bare = [] (std::string_view name)
    {
        std::string letters;
        for (char c : lowerAscii (name))
            if (c != ' ')
                letters += c;
        return letters;
    };
    for (const auto& gauge : gauges())
        if (bare (gauge.name) == bare (text))
            return gauge;
    return usageError ("gauge \"" + std::string (text) + "\"", "is not known; use 35 mm, 16 mm, 9.5 mm, 8 mm or Super 8");
}

std::string feetText (std::int64_t frames, const Gauge& gauge)
{
    const std::int64_t count = frames < 0 ? -frames : frames;
    return (frames < 0 ? "-" : "") + std::to_string (count / gauge.framesPerFoot) + "+" + padded (count % gauge.framesPerFoot, 2);
}

Result<std::int64_t> parseFeet (std::string_view text, const Gauge& gauge)
{
    const auto bad = [&] { return usageError ("feet \"" + std::string (text) + "\"", "write feet and frames, such as 62+08"); };
    auto body = trimmed (text);
    const bool negative = startsWith (body, "-");
    if (negative)
        body.remove_prefix (1);
    const auto pieces = splitAt (body, '+');
    if (pieces.size() > 2)
        return bad();
    std::int64_t total = 0;
    for (std::size_t i = 0; i < pieces.size(); ++i)
    {
        const auto value = parseWhole (pieces[i]);
        if (! value || *value < 0 || *value > 1'000'000'000)
            return bad();
        total += i == 0 ? *value * gauge.framesPerFoot : *value;
    }
    return negative ? -total : total;
}
} // namespace shutterbeat::time
