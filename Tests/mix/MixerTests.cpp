#include "Catch.h"
#include "Sounds.h"

#include "mix/Mixer.h"

using namespace shutterbeat;
using shutterbeat::tests::Formula;
using shutterbeat::tests::noiseAt;
using time::Rational;

namespace
{
std::shared_ptr<Formula> noise (int rate, int channels, std::int64_t length)
{
    return std::make_shared<Formula> (rate, channels, length, noiseAt);
}

mix::PlacedSound placed (std::shared_ptr<mix::SampleSource> source, const Rational& start, const Rational& gain = Rational (0))
{
    mix::PlacedSound sound;
    sound.source = std::move (source);
    sound.start = start;
    sound.gain = gain;
    sound.name = "noise.wav";
    return sound;
}

std::vector<float> rendered (mix::Mixer& mixer, std::int64_t first, std::int64_t frames)
{
    std::vector<float> stereo (static_cast<std::size_t> (frames) * 2);
    CHECK (mixer.render (first, stereo));
    return stereo;
}
} // namespace

TEST_CASE ("a sound of the grid's rate lies on its sample, untouched")
{
    // Frame grid of 24 against 44.1 kHz: samples 0, 1838, 3675, 5513, 7350 (WORKED I).
    const std::int64_t starts[] = { 0, 1838, 3675, 5513, 7350 };
    for (std::int64_t frame = 0; frame < 5; ++frame)
    {
        mix::Plan plan;
        plan.sounds = { placed (noise (44100, 2, 1000), Rational (frame) / Rational (24)) };
        mix::Mixer mixer (plan, 44100, 44100);
        const auto out = rendered (mixer, 0, 10000);
        for (std::int64_t s = 0; s < 10000; ++s)
        {
            const auto own = s - starts[frame];
            const bool inside = own >= 0 && own < 1000;
            REQUIRE (out[static_cast<std::size_t> (2 * s)] == (inside ? noiseAt (own, 0) : 0.0f));
            REQUIRE (out[static_cast<std::size_t> (2 * s + 1)] == (inside ? noiseAt (own, 1) : 0.0f));
        }
    }
}

TEST_CASE ("places are never accumulated: after two hours a sound is on its sample")
{
    for (const auto& rate : { Rational (24000, 1001), Rational (30000, 1001), Rational (18), Rational (200, 11) })
    {
        const auto at = Rational (150000) / rate; // the place of frame 150000
        mix::Plan plan;
        plan.sounds = { placed (noise (48000, 1, 10), at) };
        mix::Mixer mixer (plan, 48000, 48000);
        const auto first = time::roundOf (at * Rational (48000));
        const auto out = rendered (mixer, first - 2, 4);
        CHECK (out[2] == 0.0f);
        CHECK (out[4] == noiseAt (0));
        CHECK (out[5] == noiseAt (0)); // one channel goes to both
        CHECK (out[6] == noiseAt (1));
    }
}

TEST_CASE ("the same samples come in any blocks and any order, resampled or not, with clicks and pops")
{
    mix::Plan plan;
    plan.sounds = { placed (noise (48000, 2, 40000), Rational (-1, 10)), placed (noise (44100, 1, 40000), Rational (1, 7), -6),
                    placed (noise (96000, 6, 60000), Rational (1, 3)), placed (noise (47999, 2, 60000), 0) };
    plan.offset = Rational (-1, 300);
    for (int i = 0; i < 40; ++i)
        plan.clicks.push_back ({ Rational (i, 37), i % 4 == 0 ? mix::ClickKind::accent : mix::ClickKind::plain });
    plan.tones = { { Rational (1, 2), Rational (1, 24) } };
    mix::Mixer whole (plan, 48000, 48000);
    const std::int64_t first = -6000, length = 60000;
    const auto all = rendered (whole, first, length);
    CHECK_PROPERTY ("any block",
                    [&]
                    {
                        mix::Mixer mixer (plan, 48000, 48000);
                        for (int i = 0; i < 4; ++i)
                        {
                            const std::int64_t at = *rc::gen::inRange<std::int64_t> (0, length - 1);
                            const std::int64_t frames =
                                *rc::gen::inRange<std::int64_t> (1, std::min<std::int64_t> (9000, length - at) + 1);
                            std::vector<float> block (static_cast<std::size_t> (frames) * 2);
                            RC_ASSERT (mixer.render (first + at, block));
                            RC_ASSERT (std::equal (block.begin(), block.end(), all.begin() + 2 * at));
                        }
                    });
}

TEST_CASE ("44.1 kHz played on a 48 kHz card lasts as long as it is and keeps its pitch (CASES B20)")
{
    const double hertz = 1000;
    auto tone = std::make_shared<Formula> (
        44100, 1, 441000, [&] (std::int64_t s, int) { return float (0.5 * tests::sineAt (hertz, double (s) / 44100)); });
    for (const int card : { 48000, 44100, 96000, 192000, 32000 })
    {
        mix::Plan plan;
        plan.sounds = { placed (tone, 0) };
        mix::Mixer mixer (plan, card, card);
        const auto out = rendered (mixer, 0, std::int64_t (card) * 11);
        double worst = 0;
        for (std::int64_t s = card / 10; s < card * 99 / 10; ++s)
            worst =
                std::max (worst, std::abs (out[static_cast<std::size_t> (2 * s)] - 0.5 * tests::sineAt (hertz, double (s) / card)));
        INFO ("card at " << card << ", worst difference " << worst);
        CHECK (worst < 2e-5);
        double after = 0;
        for (std::int64_t s = card * 10 + card / 100; s < std::int64_t (card) * 11; ++s)
            after = std::max (after, std::abs (double (out[static_cast<std::size_t> (2 * s)])));
        CHECK (after < 1e-6);
    }
}

TEST_CASE ("a film that runs at another speed takes its sound along (varispeed)")
{
    auto tone = std::make_shared<Formula> (
        48000, 1, 480000, [] (std::int64_t s, int) { return float (0.5 * tests::sineAt (500, double (s) / 48000)); });
    for (const auto& speed : { Rational (1, 2), Rational (18, 20), Rational (25, 24), Rational (2) })
    {
        mix::Plan plan;
        plan.sounds = { placed (tone, 1) };
        plan.clicks = { { Rational (3), mix::ClickKind::plain } };
        mix::Mixer mixer (plan, Rational (48000) / speed, 48000);
        CHECK (mixer.sampleOf (Rational (3)) == time::roundOf (Rational (3 * 48000) / speed));
        const auto start = mixer.sampleOf (1);
        std::vector<float> out (2 * 20000);
        CHECK (mixer.render (start + 10000, out));
        double worst = 0;
        for (std::int64_t s = 0; s < 20000; ++s)
        {
            const double seconds = double (s + 10000) * time::toDouble (speed) / 48000;
            worst = std::max (worst, std::abs (out[static_cast<std::size_t> (2 * s)] - 0.5 * tests::sineAt (500, seconds)));
        }
        INFO ("speed " << time::fractionText (speed) << ", worst " << worst);
        CHECK (worst < 3e-5);
    }
}

TEST_CASE ("what lies above the card's half rate is not mirrored into what is heard")
{
    auto high = std::make_shared<Formula> (
        96000, 1, 96000, [] (std::int64_t s, int) { return float (0.5 * tests::sineAt (30000, double (s) / 96000)); });
    mix::Plan plan;
    plan.sounds = { placed (high, 0) };
    mix::Mixer mixer (plan, 48000, 48000);
    const auto out = rendered (mixer, 4000, 20000);
    double worst = 0;
    for (const float sample : out)
        worst = std::max (worst, std::abs (double (sample)));
    CHECK (worst < 0.5 * 1e-5); // 100 dB below it
}

TEST_CASE ("gain, mute and the overall offset")
{
    auto one = std::make_shared<Formula> (48000, 1, 100, [] (std::int64_t, int) { return 0.25f; });
    mix::Plan plan;
    plan.sounds = { placed (one, 0, Rational (-6)), placed (one, 0) };
    plan.sounds[1].muted = true;
    plan.offset = Rational (1, 100); // 480 samples
    mix::Mixer mixer (plan, 48000, 48000);
    const auto out = rendered (mixer, 470, 20);
    CHECK (out[2 * 9] == 0.0f);
    CHECK (out[2 * 10] == Approx (0.25 * 0.501187).epsilon (1e-5));
    plan.sounds[0].muted = true;
    mix::Mixer silent (plan, 48000, 48000);
    for (const float sample : rendered (silent, 0, 1000))
        CHECK (sample == 0.0f);
}

TEST_CASE ("sounds of many channels are folded down as they are meant")
{
    auto six = std::make_shared<Formula> (48000, 6, 10, [] (std::int64_t, int c) { return c == 3 ? 1.0f : 0.1f * float (c + 1); });
    mix::Plan plan;
    plan.sounds = { placed (six, 0) };
    mix::Mixer mixer (plan, 48000, 48000);
    const auto out = rendered (mixer, 0, 1);
    CHECK (out[0] == Approx (0.1 + 0.7071068 * (0.3 + 0.5)));
    CHECK (out[1] == Approx (0.2 + 0.7071068 * (0.3 + 0.6)));
    for (int channels = 1; channels <= 12; ++channels)
        CHECK (mix::stereoGains (channels).size() == static_cast<std::size_t> (channels));
}

TEST_CASE ("every click begins within half a sample of its time, over an hour, and is loudest there")
{
    // 97.3 beats a minute: a beat is no whole number of samples.
    mix::Plan plan;
    const auto beat = Rational (60) / Rational (973, 10);
    for (int i = 0; i < 5838; ++i)
        plan.clicks.push_back ({ beat * Rational (i), i % 4 == 0 ? mix::ClickKind::accent : mix::ClickKind::plain });
    mix::Mixer mixer (plan, 48000, 48000);
    double worst = 0;
    for (int i = 0; i < 5838; i += 7)
    {
        const auto exact = beat * Rational (i) * Rational (48000);
        const auto sample = time::roundOf (exact);
        worst = std::max (worst, std::abs (time::toDouble (exact - Rational (sample))));
        const auto out = rendered (mixer, sample - 100, 1400);
        const double peak = mix::factorOf (mix::usualClickLevel);
        for (int s = 0; s < 100; ++s)
            REQUIRE (out[static_cast<std::size_t> (2 * s)] == 0.0f);
        REQUIRE (out[200] == Approx (peak).epsilon (1e-4));
        for (std::size_t s = 1; s < 1300; ++s)
            REQUIRE (std::abs (out[200 + 2 * s]) < peak);
    }
    CHECK (worst <= 0.5);
}

TEST_CASE ("a click is never louder than the cap, whatever is asked")
{
    mix::Plan plan;
    plan.clickLevel = Rational (12);
    for (int i = 0; i < 50; ++i)
        plan.clicks.push_back ({ Rational (i, 1000), mix::ClickKind::accent }); // a roll of clicks that overlap
    plan.clicks.push_back ({ Rational (0), mix::ClickKind::plain });
    mix::Mixer mixer (plan, 48000, 48000);
    float highest = 0;
    for (const float sample : rendered (mixer, -10, 6000))
        highest = std::max (highest, std::abs (sample));
    CHECK (highest <= static_cast<float> (mix::factorOf (mix::highestClickLevel)));
    CHECK (highest > 0.4f);
    CHECK (mix::clickCaution().find ("start low") != std::string::npos);
    plan.clicksMuted = true;
    mix::Mixer silent (plan, 48000, 48000);
    for (const float sample : rendered (silent, 0, 100))
        CHECK (sample == 0.0f);
}

TEST_CASE ("a pop lasts one delivered frame, two seconds before the picture (WORKED G)")
{
    struct Row
    {
        Rational rate;
        std::int64_t frames;
        Rational seconds;
    };
    for (const auto& row :
         { Row{ 24, 48, 2 }, Row{ { 24000, 1001 }, 48, { 2002, 1000 } }, Row{ 25, 50, 2 }, Row{ 25, 48, { 48, 25 } } })
    {
        mix::Plan plan;
        plan.tones = { { -Rational (row.frames) / row.rate, Rational (1) / row.rate } };
        CHECK (-plan.tones[0].at == row.seconds);
        mix::Mixer mixer (plan, 48000, 48000);
        const auto first = time::roundOf (-row.seconds * Rational (48000));
        const auto end = time::roundOf ((-row.seconds + Rational (1) / row.rate) * Rational (48000));
        const auto out = rendered (mixer, first - 100, end - first + 200);
        for (std::int64_t s = 0; s < 100; ++s)
        {
            CHECK (out[static_cast<std::size_t> (2 * s)] == 0.0f);
            CHECK (out[static_cast<std::size_t> (2 * (s + 100 + end - first))] == 0.0f);
        }
        float peak = 0;
        for (const float sample : out)
            peak = std::max (peak, std::abs (sample));
        CHECK (peak == Approx (0.1).epsilon (0.01));
    }
}

TEST_CASE ("a sound that has gone is silent and named: the others sound on")
{
    mix::Plan plan;
    auto gone = noise (48000, 2, 1000);
    plan.sounds = { placed (gone, 0), placed (noise (48000, 2, 1000), 0) };
    plan.sounds[0].name = "gone.wav";
    gone->gone = true;
    mix::Mixer mixer (plan, 48000, 48000);
    std::vector<float> out (200);
    CHECK_FALSE (mixer.render (0, out));
    CHECK (mixer.failed() == "gone.wav");
    CHECK (out[0] == noiseAt (0, 0));
    CHECK_FALSE (mix::render (plan, 48000, 0, out).ok());
}
