#include "RenderedMusic.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <unistd.h>

namespace shutterbeat::tests
{
namespace
{
/// Random numbers that are the same on every machine; the library's distributions are not.
class Dice
{
public:
    explicit Dice (std::uint64_t seed)
        : state (seed * 0x9E3779B97F4A7C15ull + 0x1234567)
    {
    }
    double part()
    {
        state += 0x9E3779B97F4A7C15ull;
        auto x = state;
        x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9ull;
        x = (x ^ (x >> 27)) * 0x94D049BB133111EBull;
        x ^= x >> 31;
        return static_cast<double> (x >> 11) / 9007199254740992.0;
    }
    double between (double low, double high) { return low + (high - low) * part(); }
    int below (int end) { return std::min (end - 1, static_cast<int> (part() * end)); }
    double normal()
    {
        double sum = 0;
        for (int i = 0; i < 12; ++i)
            sum += part();
        return sum - 6;
    }

private:
    std::uint64_t state;
};

/// Two or three tempos, one after another, as cues have them.
std::vector<double> writtenBeats (const Piece& piece)
{
    Dice dice (piece.seed * 7919ull + 11);
    double tempo = dice.between (76, 128);
    std::vector<double> beats;
    const int changes = dice.below (3);
    double next = changes > 0 ? piece.seconds / (changes + 1) : 1e9;
    for (double at = 0; at < piece.seconds; at += 60 / tempo)
    {
        if (at >= next)
        {
            tempo *= dice.part() < 0.5 ? dice.between (0.86, 0.95) : dice.between (1.05, 1.14);
            next += piece.seconds / (changes + 1);
        }
        beats.push_back (at);
    }
    return beats;
}

struct Note
{
    double at = 0, length = 0;
    int channel = 0, key = 60, force = 80;
};

/// Seconds of a position in beats, played on time.
double secondsOf (const std::vector<double>& beats, double position)
{
    const auto whole = std::min (static_cast<std::size_t> (position), beats.size() - 2);
    return beats[whole] + (beats[whole + 1] - beats[whole]) * (position - static_cast<double> (whole));
}

std::vector<Note> compose (const Piece& piece, const std::vector<double>& beats)
{
    Dice dice (piece.seed * 104729ull + 3);
    static constexpr std::array<int, 7> scale{ 0, 2, 4, 5, 7, 9, 11 };
    static constexpr std::array<int, 4> roots{ 0, 5, 3, 4 };
    const int tonic = 48 + dice.below (7);
    const auto key = [&] (int degree)
    { return tonic + scale[static_cast<std::size_t> ((degree % 7 + 7) % 7)] + 12 * (degree / 7); };
    std::vector<Note> notes;
    int melody = 14;
    for (std::size_t b = 0; b + 1 < beats.size(); ++b)
    {
        const auto position = static_cast<double> (b);
        const bool first = b % 4 == 0;
        const int root = roots[(b / 4) % 4], force = first ? 92 : 72 + dice.below (12);
        const auto add = [&] (double from, double beatsLong, int channel, int which, int how) {
            notes.push_back ({ from, beatsLong, channel, std::clamp (which, 24, 103), std::clamp (how, 30, 120) });
        };
        const bool longNotes = piece.players == Players::strings;
        if (first || (! longNotes && dice.part() < 0.75) || (longNotes && dice.part() < 0.6))
            for (const int third : { 0, 2, 4 })
                add (position, longNotes ? (dice.part() < 0.5 ? 1.9 : 0.95) : 0.8, 0, key (root + third), force - 8);
        if (piece.players == Players::mixed && (first || dice.part() < 0.8))
            add (position, 0.7, 1, key (root) - 12, force);
        if (piece.players == Players::mixed && dice.part() < 0.35)
            add (position, 0.2, 9, first ? 36 : 38, force - 10);
        const double kind = dice.part();
        melody = std::clamp (melody + dice.below (5) - 2, 9, 21);
        const int voice = piece.players == Players::mixed ? 2 : 0;
        if (kind < 0.15 && ! first)
            continue;
        if (kind < 0.6 || longNotes)
            add (position, 0.92, voice, key (melody), force);
        else
        {
            add (position, 0.45, voice, key (melody), force);
            add (position + 0.5, 0.45, voice, key (melody + (dice.part() < 0.5 ? 1 : -1)), force - 14);
        }
    }
    return notes;
}

/// Seconds at which a note written for `written` is played, and on which side of its beat the player is.
class Player
{
public:
    Player (const Piece& played, std::size_t beats)
        : piece (played)
        , dice (played.seed * 31337ull + 5)
        , wander (beats + 1, 0.0)
    {
        for (std::size_t i = 1; i < wander.size(); ++i)
            wander[i] = piece.playing == Playing::human ? 0.9 * wander[i - 1] + 0.020 * std::sqrt (1 - 0.81) * dice.normal() : 0;
        turn = dice.between (0, 6);
    }
    double moment (double written, double position)
    {
        double at = written;
        if (piece.playing == Playing::tight)
            at += dice.between (-0.010, 0.010);
        else if (piece.playing == Playing::human)
            at += 0.012 + wander[static_cast<std::size_t> (position)] + 0.004 * dice.normal();
        else if (piece.playing == Playing::loose)
            at += 0.060 * dice.normal();
        else
            at += 0.9 * std::sin (written * 0.37 + turn) + 0.25 * std::sin (written * 1.3 + 2 * turn) + 0.015 * dice.normal();
        return at * piece.slower + piece.late;
    }

private:
    const Piece& piece;
    Dice dice;
    std::vector<double> wander;
    double turn = 0;
};

void putNumber (std::string& out, std::uint32_t value, int bytes)
{
    for (int i = bytes - 1; i >= 0; --i)
        out.push_back (static_cast<char> ((value >> (8 * i)) & 0xFF));
}

void putLength (std::string& out, std::uint32_t value)
{
    for (int shift = 21; shift > 0; shift -= 7)
        if (value >= (1u << shift))
            out.push_back (static_cast<char> (0x80 | ((value >> shift) & 0x7F)));
    out.push_back (static_cast<char> (value & 0x7F));
}

/// A Standard MIDI File of one track whose ticks are 1/16000 s.
std::string midiOf (const Piece& piece, std::vector<Note> notes)
{
    struct Event
    {
        std::uint32_t tick;
        std::string bytes;
    };
    std::vector<Event> events;
    const auto tick = [] (double seconds) { return static_cast<std::uint32_t> (std::lround (std::max (0.0, seconds) * 16000)); };
    const auto message = [] (int a, int b, int c) {
        return std::string{ static_cast<char> (a), static_cast<char> (b), static_cast<char> (c) };
    };
    const auto program = [] (int channel, int number) {
        return std::string{ static_cast<char> (0xC0 | channel), static_cast<char> (number) };
    };
    const std::array<int, 3> sounds = piece.players == Players::strings ? std::array{ 48, 48, 48 } : std::array{ 0, 45, 56 };
    for (int channel = 0; channel < 3; ++channel)
    {
        events.push_back ({ 0, program (channel, sounds[static_cast<std::size_t> (channel)]) });
    }
    for (const auto& note : notes)
    {
        events.push_back ({ tick (note.at), message (0x90 | note.channel, note.key, note.force) });
        events.push_back ({ tick (note.at + note.length), message (0x80 | note.channel, note.key, 64) });
    }
    std::stable_sort (events.begin(), events.end(), [] (const Event& a, const Event& b) { return a.tick < b.tick; });
    std::string track;
    putLength (track, 0);
    track += std::string ("\xFF\x51\x03", 3);
    putNumber (track, 1000000, 3);
    std::uint32_t last = 0;
    for (const auto& event : events)
    {
        putLength (track, event.tick - last);
        track += event.bytes;
        last = event.tick;
    }
    putLength (track, 0);
    track += std::string ("\xFF\x2F\x00", 3);
    std::string file = "MThd";
    putNumber (file, 6, 4);
    putNumber (file, 0, 2);
    putNumber (file, 1, 2);
    putNumber (file, 16000, 2);
    file += "MTrk";
    putNumber (file, static_cast<std::uint32_t> (track.size()), 4);
    return file + track;
}
} // namespace

std::vector<double> beatsOf (const Piece& piece)
{
    auto beats = writtenBeats (piece);
    beats.pop_back(); // nothing begins on the last one
    for (double& at : beats)
        at += piece.silence;
    return beats;
}

std::vector<double> notesOf (const Piece& piece)
{
    const auto beats = writtenBeats (piece);
    std::vector<double> moments;
    for (const auto& note : compose (piece, beats))
        moments.push_back (piece.silence + secondsOf (beats, note.at));
    std::sort (moments.begin(), moments.end());
    return moments;
}

std::vector<float> render (const Piece& piece)
{
    namespace fs = std::filesystem;
    const char* font = "/usr/share/sounds/sf2/TimGM6mb.sf2";
    if (! fs::exists (font))
        return {};
    const auto beats = writtenBeats (piece);
    auto notes = compose (piece, beats);
    Player player (piece, beats.size());
    for (auto& note : notes)
    {
        const double written = secondsOf (beats, note.at);
        const double end = secondsOf (beats, std::min (note.at + note.length, static_cast<double> (beats.size()) - 1.001));
        note.length = std::max (0.05, (end - written) * piece.slower);
        note.at = piece.silence + player.moment (written, note.at);
    }
    std::string folder = (fs::temp_directory_path() / "shutterbeat-music-XXXXXX").string();
    if (::mkdtemp (folder.data()) == nullptr)
        return {};
    std::ofstream (folder + "/a.mid", std::ios::binary) << midiOf (piece, notes);
    // A buffer of 64 frames: events begin on whole buffers. Reverb as set by FluidSynth itself, as recordings have it.
    const std::string command = "fluidsynth -n -i -q -g 0.6 -r 44100 -T raw -O float -E little -F '" + folder + "/a.raw' '" + font
                                + "' '" + folder + "/a.mid' >/dev/null 2>&1";
    std::vector<float> mono;
    if (std::system (command.c_str()) == 0)
    {
        std::ifstream in (folder + "/a.raw", std::ios::binary);
        std::vector<float> stereo (fs::file_size (folder + "/a.raw") / sizeof (float));
        in.read (reinterpret_cast<char*> (stereo.data()), static_cast<std::streamsize> (stereo.size() * sizeof (float)));
        mono.reserve (stereo.size() / 2);
        for (std::size_t i = 0; i + 1 < stereo.size(); i += 2)
            mono.push_back (0.5f * (stereo[i] + stereo[i + 1]));
    }
    std::error_code ignored;
    fs::remove_all (folder, ignored);
    return mono;
}
} // namespace shutterbeat::tests
