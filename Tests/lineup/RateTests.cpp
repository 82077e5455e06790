#include "Catch.h"

#include "lineup/Deliveries.h"
#include "lineup/RateMistakes.h"
#include "lineup/Tuning.h"

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace shutterbeat;
using namespace shutterbeat::lineup;

TEST_CASE ("Rate mistakes have the ratio of what is heard to what was written")
{
    const auto named = [] (const time::Rational& ratio)
    {
        const auto near = mistakesNear (time::toDouble (ratio), 1e-9);
        return near.size() == 1 ? near.front().words : std::string();
    };
    // Music for a minute at 24 lasts 25/24 of what the same frames last at 25.
    CHECK (named (time::Rational (25, 24)).find ("at 24 frames a second, heard against one at 25") != std::string::npos);
    CHECK (named (time::Rational (24, 25)).find ("at 25 frames a second, heard against one at 24") != std::string::npos);
    CHECK (named (time::Rational (1000, 1001)).find ("at 24 frames a second, heard against one at 23.976") != std::string::npos);
    CHECK (named (time::Rational (100, 99)).find ("18 film frames a second, heard against 18.18") != std::string::npos);
    CHECK (named (time::Rational (160, 147)).find ("recorded at 48000") != std::string::npos);
    for (const auto& one : rateMistakes())
        CHECK (std::any_of (rateMistakes().begin(), rateMistakes().end(),
                            [&] (const RateMistake& other)
                            {
                                return other.ratio == time::Rational (1) / one.ratio || time::toDouble (one.ratio) < 0.76
                                       || time::toDouble (one.ratio) > 1.3;
                            }));
}

TEST_CASE ("Tuning tells how far a sound's pitch lies off, and moves with its speed")
{
    for (const double cents : { -40.0, -12.0, 0.0, 8.0, 45.0 })
    {
        std::vector<float> samples (4 * 48000);
        for (std::size_t i = 0; i < samples.size(); ++i)
            for (const double note : { 220.0, 277.183, 329.628, 880.0 })
                samples[i] += static_cast<float> (
                    0.1 * std::sin (2 * std::numbers::pi * note * std::exp2 (cents / 1200) * static_cast<double> (i) / 48000));
        const auto tuning = tuningOf ({ samples, 48000 });
        CHECK (centsApart (tuning.cents, cents) < 1);
        CHECK (tuning.concentration > 0.9);
    }
    CHECK (movedCents (0, 160.0 / 147) == Approx (-46.7).margin (0.1)); // -146.7 on the circle of a semitone
    CHECK (movedCents (0, 25.0 / 24) == Approx (29.3).margin (0.1));    // -70.7
    CHECK (centsApart (-49, 49) == Approx (2));
    CHECK (tuningOf ({ {}, 48000 }).concentration == 0);
}

TEST_CASE ("One factor mends a delivery, and no other does it better")
{
    CHECK_FALSE (mendingOf ({}).has_value());
    const auto exact = mendingOf ({ { 10, 9.6 }, { 20, 19.2 }, { 55, 52.8 } });
    CHECK (exact->factor == Approx (0.96).epsilon (1e-9));
    CHECK (exact->worst < 1e-6);
    CHECK (exact->before == Approx (2.2));
    CHECK_PROPERTY (
        []
        {
            std::vector<Stroke> strokes;
            for (const int at : *rc::gen::nonEmpty (rc::gen::container<std::vector<int>> (rc::gen::inRange (500, 300000))))
                strokes.push_back ({ at / 1000.0, at / 1000.0 * 1.02 + *rc::gen::inRange (-200, 200) / 1000.0 });
            const auto mended = mendingOf (strokes);
            RC_ASSERT (mended.has_value());
            for (double factor = 0.5; factor < 1.6; factor += 0.0007)
            {
                double worst = 0;
                for (const auto& stroke : strokes)
                    worst = std::max (worst, std::abs (factor * stroke.heard - stroke.wanted));
                RC_ASSERT (worst >= mended->worst - 1e-6);
            }
        });
}
