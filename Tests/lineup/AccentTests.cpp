#include "Catch.h"

#include "RenderedMusic.h"
#include "Takes.h"
#include "lineup/Accent.h"

#include <cmath>
#include <cstdio>

using namespace shutterbeat;
using namespace shutterbeat::lineup;

TEST_CASE ("The nearest clear accent, or none")
{
    const std::vector<Onset> onsets{ { 1.0, 0.2f, true }, { 1.5, 0.3f, true }, { 2.0, 0.02f, true }, { 2.5, 0.3f, false } };
    CHECK (accentNear (onsets, 1.06)->seconds == 1.0);
    CHECK (accentNear (onsets, 1.06)->alone);
    CHECK (! accentNear (onsets, 1.25).has_value());
    CHECK (! accentNear (onsets, 2.0).has_value()); // too soft
    CHECK (! accentNear (onsets, 2.5).has_value()); // no attack in the samples
    CHECK (! accentNear ({}, 1.0).has_value());
    AccentLook wide;
    wide.reach = 0.3;
    CHECK_FALSE (accentNear (onsets, 1.26, wide)->alone);
}

TEST_CASE ("Places where nothing is struck have no clear accent")
{
    tests::Piece piece;
    piece.seconds = 40;
    piece.seed = 71;
    std::size_t struck = 0, of = 0, invented = 0, empty = 0, soft = 0, softOf = 0;
    for (const auto players : { tests::Players::piano, tests::Players::mixed })
    {
        piece.players = players;
        const auto take = tests::listenTo (piece);
        if (! take)
            return;
        const auto written = tests::notesOf (piece);
        const auto nothingNear = [&] (double at, double reach)
        {
            for (const double note : written)
                if (std::abs (note - at) < reach)
                    return false;
            return true;
        };
        AccentLook look;
        look.reach = 0.060;
        for (const double beat : take->evidence.beats)
        {
            if (! nothingNear (beat, 0.011))
            {
                ++of;
                struck += accentNear (take->evidence.sharp, beat, look) ? 1 : 0;
            }
            if (const double between = beat + 0.25; nothingNear (between, 0.080))
            {
                ++empty;
                invented += accentNear (take->evidence.sharp, between, look) ? 1 : 0;
            }
        }
    }
    piece.players = tests::Players::strings;
    const auto bowed = tests::listenTo (piece);
    for (const double beat : bowed->evidence.beats)
    {
        ++softOf;
        soft += accentNear (bowed->evidence.sharp, beat) ? 1 : 0;
    }
    std::printf ("clear accents: %zu of %zu struck beats, %zu of %zu empty places, %zu of %zu bowed beats\n", struck, of, invented,
                 empty, soft, softOf);
    CHECK (static_cast<double> (struck) > 0.8 * static_cast<double> (of));
    CHECK (invented == 0);
    CHECK (static_cast<double> (soft) < 0.2 * static_cast<double> (softOf));
}
