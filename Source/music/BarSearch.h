#pragma once

#include "music/BarFit.h"

namespace shutterbeat::music
{
/// The dynamic programme behind fitBars: states are a must, the frames it is missed by and the tempo there; steps are the
/// bars between two musts. Every step between every two states is looked at, or passed over only where what is already
/// known of its cost is no less than the best found for the same state.
class BarSearch
{
public:
    BarSearch (const std::vector<BarTarget>& targets, const BarWish& wish);

    /// The cheapest way through all musts, as stretches with their costs; or where there is none.
    [[nodiscard]] BarAnswer run();

private:
    static constexpr std::size_t none = static_cast<std::size_t> (-1);

    struct State
    {
        double tempo = 0; ///< 0: not yet chosen, before the first stretch
        double cost = 0;
        std::size_t before = none; ///< state of the must before
        BarStretch stretch;        ///< that led here
    };
    struct Landing
    {
        int frames = 0;
        double seconds = 0; ///< of the must as struck
        double cost = 0;
        std::vector<State> states;
        std::vector<std::size_t> onGrid; ///< state that ends on each grid tempo
    };
    struct Must
    {
        std::size_t target = 0;
        std::vector<Landing> landings;
    };

    void addSteady (const Must& from, const Landing& start, std::size_t firstIndex, Must& to, Landing& end);
    void addRamps (const Must& from, const Landing& start, std::size_t firstIndex, Must& to, Landing& end);
    [[nodiscard]] double misses (const Must& from, const Must& to, const Landing& start, const BarStretch& stretch,
                                 double most) const;
    [[nodiscard]] double tailCost (const Must& last, const Landing& end, double tempo) const;
    [[nodiscard]] BarFit built (const std::vector<BarStretch>& way, double cost, int firstLanding) const;
    [[nodiscard]] BarObstacle obstacleAt (const Must& from, const Must& to) const;

    const std::vector<BarTarget>& hits;
    const BarWish& wanted;
    std::vector<double> seconds, grid;
    std::vector<Must> musts;
    std::vector<BarFill> fills;
    double preferred = 96, low = 80, high = 110, frame = 1.0 / 24;
};

/// Seconds after a stretch's start of a beat in it, and the beat at such a moment.
double beatSeconds (const BarStretch& stretch, double beat);
double beatAt (const BarStretch& stretch, double seconds);
} // namespace shutterbeat::music
