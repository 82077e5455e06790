#include "Catch.h"

#include "lineup/OnsetScore.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>

using namespace shutterbeat;

namespace
{
std::vector<double> numbersOf (const std::string& file)
{
    std::ifstream in (file);
    std::vector<double> all;
    for (std::string line; std::getline (in, line);)
        if (! line.empty() && line[0] != '#')
            all.push_back (std::stod (line));
    std::sort (all.begin(), all.end());
    return all;
}

/// The largest number of pairs, by trying every way.
std::size_t mostPairs (const std::vector<double>& a, const std::vector<double>& b, double window)
{
    std::vector<bool> used (b.size(), false);
    const std::function<std::size_t (std::size_t)> from = [&] (std::size_t i) -> std::size_t
    {
        if (i == a.size())
            return 0;
        std::size_t best = from (i + 1);
        for (std::size_t k = 0; k < b.size(); ++k)
            if (! used[k] && std::abs (a[i] - b[k]) <= window)
            {
                used[k] = true;
                best = std::max (best, 1 + from (i + 1));
                used[k] = false;
            }
        return best;
    };
    return from (0);
}
} // namespace

TEST_CASE ("Scores of onsets are those that mir_eval gives")
{
    const auto folder = tests::testData ("data/audio/mir_eval_onset/");
    if (! std::filesystem::exists (folder))
    {
        WARN ("no mir_eval lists at " + folder + "; skipped");
        return;
    }
    for (const std::string number : { "00", "03" })
    {
        const auto score =
            lineup::scoreOnsets (numbersOf (folder + "ref" + number + ".txt"), numbersOf (folder + "est" + number + ".txt"));
        std::ifstream in (folder + "output" + number + ".json");
        const auto expected = nlohmann::json::parse (in);
        CHECK (score.fMeasure == Approx (expected.at ("F-measure").get<double>()).epsilon (1e-12));
        CHECK (score.precision == Approx (expected.at ("Precision").get<double>()).epsilon (1e-12));
        CHECK (score.recall == Approx (expected.at ("Recall").get<double>()).epsilon (1e-12));
    }
}

TEST_CASE ("No other way to pair onsets gives more pairs")
{
    CHECK_PROPERTY (
        []
        {
            const auto list = [] (int most)
            {
                std::vector<double> all;
                for (const int ms : *rc::gen::resize (most, rc::gen::container<std::vector<int>> (rc::gen::inRange (0, 400))))
                    all.push_back (ms / 1000.0);
                std::sort (all.begin(), all.end());
                all.resize (std::min<std::size_t> (all.size(), 7));
                return all;
            };
            const auto a = list (7), b = list (7);
            RC_ASSERT (lineup::scoreOnsets (a, b, 0.0501).matched == mostPairs (a, b, 0.0501));
        });
}

TEST_CASE ("Strokes struck together are one onset")
{
    CHECK (lineup::mergedStrokes ({ 0, .020, .029, .030, .5, .52 }) == std::vector<double>{ 0, .030, .5 });
    CHECK (lineup::mergedStrokes ({}).empty());
    const auto nothing = lineup::scoreOnsets ({}, { 1 });
    CHECK (nothing.fMeasure == 0);
    CHECK (nothing.precision == 0);
}
