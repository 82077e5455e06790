#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace shutterbeat::tests
{
/// How a piece is played.
enum class Playing
{
    tight, ///< every note within 10 ms of its beat
    human, ///< wanders: standard deviation 20 ms, each beat following the last (0.9), 12 ms late in the mean
    loose, ///< every note off by a normal error of 60 ms
    rubato ///< the tempo breathes by a tenth and more
};

enum class Players
{
    piano,
    mixed,
    strings
};

/// One piece to be rendered.
struct Piece
{
    Players players = Players::piano;
    Playing playing = Playing::tight;
    std::uint32_t seed = 1;
    double seconds = 60; ///< how long it lasts as written
    double late = 0;     ///< seconds by which all of it is played late
    double slower = 1;   ///< every time is multiplied by this: made for another rate
    double silence = 1;  ///< seconds before the first beat, in the file
};

/// The beats of a piece as written, seconds from sample 0 of its file when it is played as written.
std::vector<double> beatsOf (const Piece& piece);

/// Every moment at which a note begins as written, rising, likewise.
std::vector<double> notesOf (const Piece& piece);

/// The piece played by FluidSynth with one of Debian's soundfonts: one channel, 44100 samples a second.
/// Empty where fluidsynth or the soundfont is missing.
std::vector<float> render (const Piece& piece);
} // namespace shutterbeat::tests
