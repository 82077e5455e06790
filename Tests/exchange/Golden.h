#pragma once

#include "exchange/SampleBook.h"

namespace shutterbeat::tests
{
/// A delivery of the golden-times table.
struct GoldenRate
{
    std::string rate, fill;

    [[nodiscard]] std::string name() const { return rate + "-" + (fill == "true" ? "true" : "from" + fill.substr (5)); }
};

/// 23.976, 24, 25, 29.97, 29.97df and 30, each filled both ways.
inline std::vector<GoldenRate> goldenRates()
{
    std::vector<GoldenRate> all;
    for (const auto& [rate, from] : std::vector<std::pair<std::string, std::string>>{ { "23.976", "from:24" },
                                                                                      { "24", "from:25" },
                                                                                      { "25", "from:24" },
                                                                                      { "29.97", "from:30" },
                                                                                      { "29.97df", "from:30" },
                                                                                      { "30", "from:25" } })
        for (const auto& fill : { std::string ("true"), from })
            all.push_back ({ rate, fill });
    return all;
}

/// The sample book at one of them.
inline spotting::BookTimes goldenTimes (const GoldenRate& golden)
{
    spotting::Asked asked;
    asked.rate = time::parseRate (golden.rate)->value;
    asked.fill = *film::parseFill (golden.fill);
    return timed (comedy(), asked);
}
} // namespace shutterbeat::tests
