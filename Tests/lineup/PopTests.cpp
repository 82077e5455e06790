#include "Catch.h"

#include "lineup/Pop.h"

#include <cmath>
#include <numbers>

using namespace shutterbeat::lineup;

namespace
{
void tone (std::vector<float>& samples, double from, double seconds, double hertz, double height)
{
    const auto first = static_cast<std::size_t> (std::lround (from * 48000));
    for (std::size_t i = 0; i < static_cast<std::size_t> (seconds * 48000) && first + i < samples.size(); ++i)
        samples[first + i] +=
            static_cast<float> (height * std::sin (2 * std::numbers::pi * hertz * static_cast<double> (i) / 48000));
}
} // namespace

TEST_CASE ("Pops are found to the millisecond, and other short sounds are not taken for them")
{
    std::vector<float> samples (20 * 48000, 0.0f);
    tone (samples, 8.0, 1.0 / 24, 1000, 0.1);
    tone (samples, 10.0, 6.0, 330, 0.3); // music
    tone (samples, 18.0, 1.0 / 24, 1000, 0.1);
    auto pops = popsOf ({ samples, 48000 });
    REQUIRE (pops.size() == 2);
    CHECK (pops[0].seconds == Approx (8.0).margin (0.001));
    CHECK (pops[0].length == Approx (1.0 / 24).margin (0.003));
    CHECK (pops[1].seconds == Approx (18.0).margin (0.001));

    samples.assign (20 * 48000, 0.0f);
    tone (samples, 2.0, 0.04, 300, 0.1);  // too low
    tone (samples, 5.0, 0.4, 1000, 0.1);  // too long
    tone (samples, 8.0, 0.04, 1000, 0.1); // not alone
    tone (samples, 8.2, 0.04, 1000, 0.1);
    CHECK (popsOf ({ samples, 48000 }).empty());
    CHECK (popsOf ({ {}, 48000 }).empty());
}

TEST_CASE ("Where a sound begins and ends is where it can be heard")
{
    std::vector<float> samples (20 * 48000, 0.0f);
    tone (samples, 3.0, 10.0, 440, 0.3);
    const auto sounding = soundingOf ({ samples, 48000 });
    CHECK_FALSE (sounding.silent);
    CHECK (sounding.first == Approx (3.0).margin (0.02));
    CHECK (sounding.last == Approx (13.0).margin (0.02));
    const std::vector<float> silent (48000, 0.0f);
    CHECK (soundingOf ({ silent, 48000 }).silent);
    CHECK (soundingOf ({ {}, 48000 }).silent);
}
