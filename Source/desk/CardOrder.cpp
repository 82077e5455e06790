#include "desk/CardOrder.h"

#include "spotting/WordingText.h"

#include <algorithm>

namespace shutterbeat::desk
{
std::vector<std::optional<std::size_t>> laidBeside (const std::vector<std::string>& own, const std::vector<std::string>& other)
{
    // The order that makes the likenesses add up to most. What is no more alike than chance has it adds nothing.
    constexpr double chance = 0.45;
    const std::size_t width = own.size() + 1;
    std::vector<double> worth ((other.size() + 1) * width);
    std::vector<double> alike (other.size() * own.size());
    for (std::size_t i = 0; i < other.size(); ++i)
        for (std::size_t k = 0; k < own.size(); ++k)
        {
            alike[i * own.size() + k] = std::max (0.0, spotting::likeness (other[i], own[k]) - chance);
            const double both = worth[i * width + k] + alike[i * own.size() + k];
            worth[(i + 1) * width + k + 1] = std::max ({ both, worth[i * width + k + 1], worth[(i + 1) * width + k] });
        }
    std::vector<std::optional<std::size_t>> beside (other.size());
    std::size_t i = other.size();
    std::size_t k = own.size();
    while (i > 0 && k > 0)
    {
        const double here = worth[i * width + k];
        if (here <= worth[(i - 1) * width + k])
            --i;
        else if (here <= worth[i * width + k - 1])
            --k;
        else
        {
            --i;
            --k;
            beside[i] = k;
        }
    }
    return beside;
}
} // namespace shutterbeat::desk
