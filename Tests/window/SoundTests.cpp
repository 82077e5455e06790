// The window's sound through a sound system that really takes it.
#include "Opened.h"

#include "mix/LinearTimecode.h"
#include "play/SoundPulse.h"
#include "window/Actions.h"

#include <algorithm>
#include <cmath>
#include <fstream>

using namespace shutterbeat;
using tests::Opened;

namespace
{
/// Samples at which something sounds after a fifth of a second of silence.
std::vector<std::size_t> onsetsIn (const std::vector<float>& samples)
{
    std::vector<std::size_t> found;
    std::size_t quiet = 0;
    for (std::size_t i = 0; i < samples.size(); ++i)
    {
        if (std::abs (samples[i]) < .01f)
        {
            ++quiet;
            continue;
        }
        if (quiet > 9600)
            found.push_back (i);
        quiet = 0;
    }
    return found;
}

/// The window's book with a cue at 120 beats a minute from the film's first picture on.
void openWithTempo (Opened& on)
{
    auto loaded = store::loadBook (on.bench().path());
    REQUIRE (loaded.ok());
    auto cues = loaded->book.cues.list();
    cues[0].tempo = *music::TempoMap::steady (120);
    loaded->book.cues = std::move (cues);
    const auto path = on.folder + "/tempo.shutterbeat";
    REQUIRE (store::saveBook (path, loaded->book, "").ok());
    on.bench().openPath (path);
    REQUIRE (on.until ([&] { return on.bench().path() == path; }));
}
} // namespace

TEST_CASE ("without a sound card the window says so and the film runs on", "[playback]")
{
    const auto config = std::filesystem::temp_directory_path() / "shutterbeat-none-asound.conf";
    std::ofstream (config) << "# no devices\n";
    ::setenv ("ALSA_CONFIG_PATH", config.c_str(), 1);
    Opened on ("nosound");
    REQUIRE (on.until ([&] { return ! on.bench().noSound.empty(); }));
    on.space();
    Opened::spin (1000);
    CHECK (on.bench().transport.playing());
    CHECK (on.bench().transport.position().filmFrame >= 10);
}

TEST_CASE ("the click of a cue is heard through the sound card, whose count is the clock", "[playback]")
{
    const tests::PulseServer pulse;
    if (! pulse.missing().empty())
    {
        WARN ("skipped: " << pulse.missing());
        return;
    }
    Opened on ("sound");
    openWithTempo (on);
    INFO (on.bench().noSound);
    REQUIRE (on.until ([&] { return on.bench().noSound.empty(); }));
    CHECK_FALSE (on.bench().soundDevices.empty());
    CHECK (perform (on.bench(), window::actionNamed ("sound.click")));
    CHECK (on.bench().soundWish().click);
    CHECK (on.bench().message.text.find ("Headphones") != std::string::npos); // the caution is read on the screen
    tests::AlsaRecorder recorder ("monitor", 48000);
    REQUIRE (recorder.failed().empty());
    Opened::spin (2500);
    on.space();
    Opened::spin (4000);
    CHECK (on.bench().noSound.empty());
    CHECK (on.bench().transport.playing());
    CHECK (perform (on.bench(), window::actionNamed ("sound.mute")));
    CHECK (on.bench().soundWish().muted);
    Opened::spin (1200);
    // Stopped first: what was recorded has to be whole.
    recorder.stop();
    const auto onsets = onsetsIn (recorder.samples());
    WARN ("clicks heard in about four seconds at 120: " << onsets.size());
    REQUIRE (onsets.size() >= 6);
    CHECK (onsets.size() <= 9); // none after the mute
    std::size_t even = 0;
    for (std::size_t i = 1; i < onsets.size(); ++i)
        even += std::abs (static_cast<double> (onsets[i] - onsets[i - 1]) - 24000) < 480 ? 1 : 0;
    CHECK (even + 1 >= onsets.size() - 1);
}

TEST_CASE ("linear timecode goes out on the right channel, label by label with the picture", "[playback]")
{
    const tests::PulseServer pulse;
    if (! pulse.missing().empty())
    {
        WARN ("skipped: " << pulse.missing());
        return;
    }
    Opened on ("ltc");
    REQUIRE (on.until ([&] { return on.bench().noSound.empty(); }));
    CHECK (perform (on.bench(), window::actionNamed ("sound.linearCode")));
    // Without a MIDI output the window says so, and goes on.
    CHECK (perform (on.bench(), window::actionNamed ("sound.midiCode")));
    Opened::spin (100);
    if (window::CodeDesk::outputs().empty())
        CHECK (on.bench().message.text.find ("no MIDI output") != std::string::npos);
    tests::AlsaRecorder recorder ("monitor", 48000);
    REQUIRE (recorder.failed().empty());
    Opened::spin (2500);
    on.space();
    Opened::spin (4000);
    CHECK (on.bench().transport.playing());
    recorder.stop();
    mix::LtcFinder finder (48000, 25);
    const auto samples = recorder.rightSamples();
    const auto labels = finder.feed (samples);
    std::vector<std::int64_t> counts;
    for (const auto& label : labels)
        if (const auto read = time::parseLabel (label.text, { 25, false }))
            counts.push_back (read->value);
    WARN ("labels decoded from about four seconds: " << counts.size());
    REQUIRE (counts.size() > 70);
    CHECK (counts.front() - 90000 < 25); // 01:00:00:00 is label 90,000
    std::size_t follow = 0;
    for (std::size_t i = 1; i < counts.size(); ++i)
        follow += counts[i] == counts[i - 1] + 1 ? 1 : 0;
    CHECK (follow + 3 >= counts.size());
}
