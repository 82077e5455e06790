#include "lineup/OnsetScore.h"

namespace shutterbeat::lineup
{
OnsetScore scoreOnsets (const std::vector<double>& annotated, const std::vector<double>& found, double window)
{
    OnsetScore score;
    score.annotated = annotated.size();
    score.found = found.size();
    // On a line with one window for all, pairing the earliest two that reach each other is a largest matching.
    for (std::size_t a = 0, f = 0; a < annotated.size() && f < found.size();)
    {
        const double late = found[f] - annotated[a];
        if (late < -window)
            ++f;
        else if (late > window)
            ++a;
        else
        {
            ++score.matched;
            ++a;
            ++f;
        }
    }
    if (score.annotated == 0 || score.found == 0)
        return score;
    const auto matched = static_cast<double> (score.matched);
    score.precision = matched / static_cast<double> (score.found);
    score.recall = matched / static_cast<double> (score.annotated);
    if (score.matched > 0)
        score.fMeasure = 2 * score.precision * score.recall / (score.precision + score.recall);
    return score;
}

std::vector<double> mergedStrokes (const std::vector<double>& rising, double apart)
{
    std::vector<double> merged;
    for (const double at : rising)
        if (merged.empty() || at - merged.back() >= apart)
            merged.push_back (at);
    return merged;
}
} // namespace shutterbeat::lineup
