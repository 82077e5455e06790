#include "SoundPulse.h"

#include <alsa/asoundlib.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <pthread.h>
#include <sys/wait.h>
#include <unistd.h>

namespace shutterbeat::tests
{
namespace
{
namespace fs = std::filesystem;

std::int64_t now()
{
    return play::SteadyClock().nanoseconds();
}

/// As sound threads are, where that is allowed.
void hurry()
{
    sched_param priority{};
    priority.sched_priority = 20;
    static_cast<void> (pthread_setschedparam (pthread_self(), SCHED_FIFO, &priority));
}

snd_pcm_t* handle (void* pcm)
{
    return static_cast<snd_pcm_t*> (pcm);
}

void* openPcm (const std::string& device, snd_pcm_stream_t stream, int rate, int block, int& buffer, std::string& why)
{
    snd_pcm_t* pcm = nullptr;
    const auto fail = [&] (const char* what, int code) -> void*
    {
        why = std::string (what) + ": " + snd_strerror (code);
        if (pcm != nullptr)
            snd_pcm_close (pcm);
        return nullptr;
    };
    if (const int code = snd_pcm_open (&pcm, device.c_str(), stream, 0); code < 0)
        return fail ("open", code);
    snd_pcm_hw_params_t* hardware = nullptr;
    snd_pcm_hw_params_alloca (&hardware);
    snd_pcm_hw_params_any (pcm, hardware);
    auto period = static_cast<snd_pcm_uframes_t> (block), whole = static_cast<snd_pcm_uframes_t> (buffer);
    int code = snd_pcm_hw_params_set_access (pcm, hardware, SND_PCM_ACCESS_RW_INTERLEAVED);
    if (code >= 0)
        code = snd_pcm_hw_params_set_format (pcm, hardware, SND_PCM_FORMAT_FLOAT_LE);
    if (code >= 0)
        code = snd_pcm_hw_params_set_channels (pcm, hardware, 2);
    if (code >= 0)
        code = snd_pcm_hw_params_set_rate (pcm, hardware, static_cast<unsigned> (rate), 0);
    if (code >= 0)
        code = snd_pcm_hw_params_set_period_size_near (pcm, hardware, &period, nullptr);
    if (code >= 0)
        code = snd_pcm_hw_params_set_buffer_size_near (pcm, hardware, &whole);
    if (code >= 0)
        code = snd_pcm_hw_params (pcm, hardware);
    if (code < 0)
        return fail ("settings", code);
    buffer = static_cast<int> (whole);
    return pcm;
}
} // namespace

PulseServer::PulseServer()
{
    if (std::system ("command -v pulseaudio >/dev/null") != 0)
    {
        why = "pulseaudio is not installed";
        return;
    }
    std::string name = (fs::temp_directory_path() / "shutterbeat-pulse-XXXXXX").string();
    folder = ::mkdtemp (name.data());
    const std::string socket = folder + "/native";
    std::ofstream (folder + "/asound.conf") << "pcm.bench { type pulse server \"unix:" << socket
                                            << "\" device \"bench\" hint { show on description \"Bench sink\" } }\n"
                                            << "pcm.monitor { type pulse server \"unix:" << socket
                                            << "\" device \"bench.monitor\" }\n";
    process = ::fork();
    if (process == 0)
    {
        for (const char* variable : { "HOME", "XDG_RUNTIME_DIR", "PULSE_RUNTIME_PATH", "PULSE_STATE_PATH", "XDG_CONFIG_HOME" })
            ::setenv (variable, folder.c_str(), 1);
        ::setenv ("DBUS_SESSION_BUS_ADDRESS", "disabled:", 1);
        const std::string native = "module-native-protocol-unix auth-anonymous=1 socket=" + socket;
        if (std::freopen ("/dev/null", "w", stderr) == nullptr)
            ::_exit (126);
        ::execlp ("pulseaudio", "pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--use-pid-file=no",
                  "--high-priority=yes", "-L", "module-null-sink sink_name=bench rate=48000 channels=2 format=float32le", "-L",
                  native.c_str(), nullptr);
        ::_exit (127);
    }
    for (int tries = 0; tries < 200 && ! fs::exists (socket); ++tries)
        ::usleep (50'000);
    if (! fs::exists (socket))
        why = "pulseaudio did not start";
    ::setenv ("ALSA_CONFIG_PATH", (folder + "/asound.conf").c_str(), 1);
    ::setenv ("PULSE_SERVER", ("unix:" + socket).c_str(), 1);
    snd_config_update_free_global();
}

PulseServer::~PulseServer()
{
    if (process > 0)
    {
        ::kill (process, SIGTERM);
        ::waitpid (process, nullptr, 0);
    }
    std::error_code ignored;
    if (! folder.empty())
        fs::remove_all (folder, ignored);
}

AlsaOutput::AlsaOutput (const std::string& device, int samplesPerSecond, int blockFrames, int wanted)
    : rate (samplesPerSecond)
    , block (blockFrames)
    , buffer (wanted)
{
    pcm = openPcm (device, SND_PCM_STREAM_PLAYBACK, rate, block, buffer, why);
}

AlsaOutput::~AlsaOutput()
{
    stop();
    if (pcm != nullptr)
        snd_pcm_close (handle (pcm));
}

void AlsaOutput::start (Callback toCall)
{
    callback = std::move (toCall);
    ending = false;
    thread = std::thread ([this] { run(); });
}

void AlsaOutput::stop()
{
    ending = true;
    if (thread.joinable())
        thread.join();
}

void AlsaOutput::run()
{
    hurry();
    std::vector<float> left (static_cast<std::size_t> (block)), right (left.size()), both (2 * left.size());
    float* out[2] = { left.data(), right.data() };
    while (! ending)
    {
        snd_pcm_sframes_t delay = 0;
        if (snd_pcm_state (handle (pcm)) == SND_PCM_STATE_RUNNING && snd_pcm_delay (handle (pcm), &delay) == 0)
        {
            delaySum += static_cast<double> (delay);
            ++delays;
        }
        callback (out, block);
        for (std::size_t i = 0; i < left.size(); ++i)
        {
            both[2 * i] = left[i];
            both[2 * i + 1] = right[i];
        }
        for (std::size_t done = 0; done < left.size() && ! ending;)
        {
            const auto wrote = snd_pcm_writei (handle (pcm), both.data() + 2 * done, left.size() - done);
            if (wrote > 0)
                done += static_cast<std::size_t> (wrote);
            else if (wrote < 0)
            {
                ++underruns;
                if (snd_pcm_recover (handle (pcm), static_cast<int> (wrote), 1) < 0)
                    return;
            }
        }
    }
    snd_pcm_drop (handle (pcm));
}

AlsaRecorder::AlsaRecorder (const std::string& device, int samplesPerSecond)
    : rate (samplesPerSecond)
{
    int buffer = 9600;
    pcm = openPcm (device, SND_PCM_STREAM_CAPTURE, rate, 480, buffer, why);
    if (pcm != nullptr)
        thread = std::thread ([this] { run(); });
}

AlsaRecorder::~AlsaRecorder()
{
    stop();
    if (pcm != nullptr)
        snd_pcm_close (handle (pcm));
}

void AlsaRecorder::stop()
{
    ending = true;
    if (thread.joinable())
        thread.join();
}

void AlsaRecorder::run()
{
    hurry();
    std::vector<float> both (2 * 480);
    while (! ending)
    {
        const auto got = snd_pcm_readi (handle (pcm), both.data(), 480);
        if (got < 0)
        {
            if (snd_pcm_recover (handle (pcm), static_cast<int> (got), 1) < 0)
                return;
            readings.clear(); // what came before has lost its time
            left.clear();
            right.clear();
            continue;
        }
        snd_pcm_sframes_t delay = 0;
        const bool known = snd_pcm_delay (handle (pcm), &delay) == 0;
        const auto moment = now();
        for (snd_pcm_sframes_t i = 0; i < got; ++i)
        {
            left.push_back (both[static_cast<std::size_t> (2 * i)]);
            right.push_back (both[static_cast<std::size_t> (2 * i + 1)]);
        }
        if (known)
            readings.push_back ({ static_cast<std::int64_t> (left.size()) + delay, moment });
    }
}

double AlsaRecorder::heardAt (double sample) const
{
    // Over the readings near it, so that a slow drift between the two clocks is followed.
    std::vector<double> zeros;
    for (const auto& reading : readings)
        if (std::abs (static_cast<double> (reading.sample) - sample) < 1.5 * rate)
            zeros.push_back (static_cast<double> (reading.nanoseconds) - static_cast<double> (reading.sample) / rate * 1e9);
    if (zeros.empty())
        return 0;
    std::nth_element (zeros.begin(), zeros.begin() + static_cast<std::ptrdiff_t> (zeros.size() / 2), zeros.end());
    return zeros[zeros.size() / 2] + sample / rate * 1e9;
}
} // namespace shutterbeat::tests
