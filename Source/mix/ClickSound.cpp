#include "mix/ClickSound.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace shutterbeat::mix
{
std::string clickCaution()
{
    return "Headphones: start low and turn up slowly. A click is at most " + std::to_string (-highestClickLevel)
           + " dB below full scale and is never raised by the program; 85 dB(A) is the limit for eight hours, 91 for two.";
}

double factorOf (const time::Rational& decibels)
{
    return std::pow (10.0, time::toDouble (decibels) / 20.0);
}

std::vector<float> clickSound (ClickKind kind, int samplesPerSecond, const time::Rational& level)
{
    // 1000 and 1500 Hz over 25 ms: heard through an orchestra, and low enough for small loudspeakers and old ears.
    const double hertz = kind == ClickKind::accent ? 1500.0 : 1000.0;
    const double soft = kind == ClickKind::soft ? 0.5 : 1.0;
    const double peak = soft * factorOf (std::min (level, time::Rational (highestClickLevel)));
    const double rate = samplesPerSecond, length = 0.025;
    std::vector<float> samples (static_cast<std::size_t> (std::max (1.0, length * rate)));
    for (std::size_t n = 0; n < samples.size(); ++n)
    {
        const double t = static_cast<double> (n) / rate;
        const double fade = 1.0 - t / length; // ends at silence
        samples[n] = static_cast<float> (peak * std::cos (2 * std::numbers::pi * hertz * t) * std::exp (-t / 0.005) * fade);
    }
    return samples;
}
} // namespace shutterbeat::mix
