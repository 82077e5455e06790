#include "Catch.h"
#include "Films.h"
#include "SoundPulse.h"

#include "mix/Mixer.h"
#include "play/DecodeWorker.h"
#include "play/SoundFeeder.h"
#include "play/Transport.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <set>
#include <stdlib.h>

using namespace shutterbeat;
using time::Rational;

namespace
{
/// Seconds to play: a minute where SHUTTERBEAT_PLAYBACK_SECONDS says so, else ten seconds.
int secondsToPlay()
{
    const char* asked = std::getenv ("SHUTTERBEAT_PLAYBACK_SECONDS");
    return asked != nullptr ? std::clamp (std::atoi (asked), 4, 100) : 10;
}

/// A frame that came on screen.
struct Shown
{
    std::int64_t delivered = 0, nanoseconds = 0;
};

struct Screen
{
    std::vector<Shown> shown;
    std::set<std::int64_t> notDecoded; ///< its picture was not there in time
    int outOfOrder = 0;
    std::int64_t longestSleep = 0;    ///< between two ticks of the test's own thread
    std::set<std::int64_t> overslept; ///< frames that passed while that thread was not woken
};

/// As a window does at sixty ticks a second: shows what the transport says, when its picture is there.
Screen showFor (play::Transport& transport, play::DecodeWorker& worker, const play::FilmFiles& files, const film::Timings& timings,
                std::int64_t nanoseconds)
{
    const play::SteadyClock machine;
    Screen screen;
    const auto start = machine.nanoseconds();
    auto tick = start, before = start;
    std::int64_t onScreen = -1, last = -1;
    while (machine.nanoseconds() - start < nanoseconds)
    {
        tick += play::second / 60;
        std::this_thread::sleep_until (std::chrono::steady_clock::time_point (std::chrono::nanoseconds (tick)));
        const auto woken = machine.nanoseconds();
        const auto slept = woken - before;
        before = woken;
        screen.longestSleep = std::max (screen.longestSleep, slept);
        if (woken > tick + play::second / 60)
            tick = woken;
        transport.update();
        const auto now = transport.delivered();
        if (slept > play::second / 30)
            for (auto j = last + 1; j < now; ++j)
                screen.overslept.insert (j);
        last = now;
        worker.want (play::wantedKeys (files, timings, transport.position(), 1, 12), 0, 0);
        if (now == onScreen)
            continue;
        const auto key = files.keyAt (timings, transport.position());
        if (! key || worker.picture (*key) == nullptr)
        {
            screen.notDecoded.insert (now);
            continue;
        }
        screen.outOfOrder += now < onScreen ? 1 : 0;
        onScreen = now;
        screen.shown.push_back ({ now, machine.nanoseconds() });
    }
    return screen;
}

/// First samples of the clicks in a recording: the first above a quarter of full scale after a tenth of a second of less.
std::vector<std::size_t> clicksIn (const std::vector<float>& recorded)
{
    std::vector<std::size_t> found;
    std::size_t quiet = 0;
    for (std::size_t i = 0; i < recorded.size(); ++i)
    {
        if (std::abs (recorded[i]) < 0.25f)
        {
            ++quiet;
            continue;
        }
        if (quiet > 4800)
            found.push_back (i);
        quiet = 0;
    }
    return found;
}
} // namespace

TEST_CASE ("what is heard and what is shown stay within half a film frame", "[playback]")
{
    const tests::PulseServer pulse;
    if (! pulse.missing().empty())
    {
        WARN ("skipped: " << pulse.missing());
        return;
    }
    const int playFor = secondsToPlay();
    const int filmFrames = (playFor + 5) * 18;
    const auto folder = std::filesystem::temp_directory_path() / "shutterbeat-playback";
    std::filesystem::create_directories (folder);
    const auto file = (folder / ("film-" + std::to_string (filmFrames) + ".mp4")).string();
    if (! std::filesystem::exists (file))
    {
        const auto make = "ffmpeg -v error -y -f lavfi -i testsrc2=size=640x480:rate=24 -frames:v " + std::to_string (filmFrames)
                          + " -c:v libx264 -preset veryfast -g 250 -bf 2 '" + file + "'";
        REQUIRE (std::system (make.c_str()) == 0);
    }
    // Eighteen film frames a second, delivered at 24.
    const auto timings = tests::timingsFor ({ tests::plainShot ("a", 0, filmFrames) }, 18, { 24, false }, { {} });
    const play::FilmFiles files (timings->prints(), { { file } });
    play::DecodeWorker worker (play::filmPictures ({ file }), std::size_t (256) << 20);

    const play::SteadyClock machine;
    play::SoundClock clock (machine);
    play::SoundFeeder feeder (clock);
    mix::Plan plan;
    plan.clickLevel = Rational (mix::highestClickLevel);
    for (int i = 1; i < 2 * (playFor + 4); ++i)
        plan.clicks.push_back ({ Rational (i, 2) + Rational (1, 7), mix::ClickKind::plain });
    feeder.supply (
        [&] (const Rational& perSecond, int rate) -> play::SoundRender
        {
            auto mixer = std::make_shared<mix::Mixer> (plan, perSecond, rate);
            return [mixer] (std::int64_t first, std::span<float> stereo) { return mixer->render (first, stereo); };
        });

    tests::AlsaOutput output ("bench", 48000, 512, 8192);
    REQUIRE (output.failed().empty());
    // What a sound system says of its device: the samples of its buffer lie between a call and its being heard.
    clock.deviceStarted (48000, 512, output.bufferFrames(), output.bufferFrames());
    output.start (
        [&] (float* const* out, int frames)
        {
            const auto first = clock.took (frames);
            feeder.fill (out, 2, frames, first);
        });
    play::Transport transport (clock);
    transport.setTimings (timings);
    worker.want (play::wantedKeys (files, *timings, transport.position(), 1, 24), 0, 0);
    std::this_thread::sleep_for (std::chrono::seconds (1)); // the device settles
    // Opened only now: beside a sink that stands, the server hands a recording over in lumps of seconds.
    tests::AlsaRecorder recorder ("monitor", 48000);
    REQUIRE (recorder.failed().empty());
    std::this_thread::sleep_for (std::chrono::seconds (3));
    worker.waitUntilIdle();
    REQUIRE (clock.onDevice());

    transport.play();
    feeder.play (transport.seconds(), 1, clock.nanoseconds());
    const auto screen = showFor (transport, worker, files, *timings, playFor * play::second);
    feeder.stop();
    std::this_thread::sleep_for (std::chrono::milliseconds (300));
    output.stop();
    recorder.stop();

    // Each click heard, against the picture that was on screen then.
    const auto heard = clicksIn (recorder.samples());
    std::vector<double> late; // milliseconds that sound is behind the picture
    for (const auto sample : heard)
    {
        const double moment = recorder.heardAt (static_cast<double> (sample));
        const auto next = std::find_if (screen.shown.begin(), screen.shown.end(),
                                        [&] (const Shown& s) { return double (s.nanoseconds) > moment; });
        if (next == screen.shown.begin() || next == screen.shown.end())
            continue;
        const auto& on = *std::prev (next);
        // The film's time on screen: that of the frame's beginning and what it has stood since.
        const double film = double (on.delivered) / 24 + (moment - double (on.nanoseconds)) / 1e9;
        const double number = std::round ((film - 1.0 / 7) * 2);
        late.push_back ((film - (number / 2 + 1.0 / 7)) * 1000);
    }
    std::int64_t missed = 0, lateDecoded = 0, overslept = 0;
    std::set<std::int64_t> seen;
    for (const auto& s : screen.shown)
        seen.insert (s.delivered);
    const auto lastShown = screen.shown.empty() ? 0 : screen.shown.back().delivered;
    for (std::int64_t j = screen.shown.empty() ? 0 : screen.shown.front().delivered; j < lastShown; ++j)
        if (seen.count (j) == 0)
        {
            if (screen.notDecoded.count (j) > 0)
                ++lateDecoded;
            else if (screen.overslept.count (j) > 0)
                ++overslept;
            else
                ++missed;
        }
    REQUIRE_FALSE (late.empty());
    std::sort (late.begin(), late.end());
    const double half = 1000.0 / 18 / 2;
    const auto counts = feeder.counts();
    std::cout << "Playback over " << playFor << " s at 18 film frames a second, delivered at 24, through PulseAudio:\n"
              << "  clicks heard " << late.size() << "; sound behind picture by " << late.front() << " to " << late.back()
              << " ms, median " << late[late.size() / 2] << " (half a film frame is " << half << ")\n"
              << "  frames shown " << screen.shown.size() << " of " << lastShown + 1 << ", out of order " << screen.outOfOrder
              << ", not decoded in time " << lateDecoded << ", passed while the test was not woken " << overslept
              << ", missed otherwise " << missed << "; longest sleep " << screen.longestSleep / 1000000 << " ms\n"
              << "  sound samples played " << counts.played << ", too late " << counts.missed << " in " << counts.gaps
              << " gaps; device buffer " << output.bufferFrames() << ", mean delay it says " << output.meanDelay()
              << " samples, stumbles " << output.stumbles() << "\n";
    CHECK (clock.onDevice());
    CHECK (static_cast<int> (late.size()) >= 2 * playFor - 3);
    CHECK (screen.outOfOrder == 0);
    CHECK (missed == 0);
    // A machine too busy to wake this very thread shows nothing of the player; then the figures above are all there is.
    if (overslept == 0 && output.stumbles() == 0 && counts.missed == 0)
    {
        CHECK (std::abs (late.front()) <= half);
        CHECK (std::abs (late.back()) <= half);
    }
    else
        WARN ("the machine was too busy: the threads of the test were not woken in time, the offsets are not judged");
}

TEST_CASE ("ALSA's null device, which runs away, leaves the film to the silent clock", "[playback]")
{
    // The null type is part of ALSA itself; it takes sound as fast as it is given.
    const auto config = std::filesystem::temp_directory_path() / "shutterbeat-null-asound.conf";
    std::FILE* written = std::fopen (config.c_str(), "w");
    REQUIRE (written != nullptr);
    std::fputs ("pcm.nothing { type null }\n", written);
    std::fclose (written);
    ::setenv ("ALSA_CONFIG_PATH", config.c_str(), 1);
    tests::AlsaOutput output ("nothing", 48000, 512, 2048);
    REQUIRE (output.failed().empty());
    const play::SteadyClock machine;
    play::SoundClock clock (machine);
    clock.deviceStarted (48000, 512, output.bufferFrames(), output.bufferFrames());
    const auto clockStart = clock.nanoseconds(), start = machine.nanoseconds();
    std::atomic<std::int64_t> taken{ 0 };
    output.start (
        [&] (float* const* out, int frames)
        {
            std::fill (out[0], out[0] + frames, 0.0f);
            std::fill (out[1], out[1] + frames, 0.0f);
            clock.took (frames);
            taken += frames;
            // A real runaway burns a whole processor; a little less shows it as well.
            std::this_thread::sleep_for (std::chrono::microseconds (50));
        });
    std::int64_t last = clockStart;
    bool jumped = false;
    while (machine.nanoseconds() - start < play::second)
    {
        const auto now = clock.nanoseconds();
        jumped = jumped || now < last;
        last = now;
        std::this_thread::sleep_for (std::chrono::milliseconds (1));
    }
    output.stop();
    CHECK_FALSE (jumped);
    CHECK (taken > 100'000); // it did run away
    CHECK_FALSE (clock.onDevice());
    CHECK (clock.message().find ("faster than time") != std::string::npos);
    CHECK (std::abs ((clock.nanoseconds() - clockStart) - (machine.nanoseconds() - start)) < 60'000'000);
    std::filesystem::remove (config);
}
