#include "Catch.h"

#include "Takes.h"

#include <cmath>

using namespace shutterbeat;
using namespace shutterbeat::lineup;
using tests::Piece;
using tests::Players;
using tests::Playing;

namespace
{
Piece pieceOf (Players players, Playing playing, std::uint32_t seed, double late = 0, double slower = 1)
{
    Piece piece;
    piece.players = players;
    piece.playing = playing;
    piece.seed = seed;
    piece.seconds = 40;
    piece.late = late;
    piece.slower = slower;
    return piece;
}

bool namesFault (const Diagnosis& diagnosis)
{
    return diagnosis.kind == TakeKind::late || diagnosis.kind == TakeKind::drift || diagnosis.kind == TakeKind::rateMistake
           || diagnosis.kind == TakeKind::sampleRate;
}

/// Onsets on every beat of a map, struck exactly.
TakeEvidence struck (const std::vector<double>& beats, double late, double ratio)
{
    TakeEvidence evidence;
    evidence.beats = beats;
    for (const double beat : beats)
        evidence.sharp.push_back ({ beats.front() + late + ratio * (beat - beats.front()), 0.2f, true });
    evidence.length = evidence.sharp.back().seconds + 1;
    return evidence;
}

std::vector<double> uneven (std::size_t count)
{
    std::vector<double> beats;
    double at = 1;
    for (std::size_t i = 0; i < count; ++i)
    {
        beats.push_back (at);
        at += i < count / 2 ? 0.52 : 0.61;
    }
    return beats;
}
} // namespace

TEST_CASE ("A constant offset and a rate mistake are told apart from onsets alone")
{
    const auto beats = uneven (100);
    for (const double late : { -0.2, -0.045, 0.012, 0.08, 0.2 })
    {
        const auto told = diagnose (struck (beats, late, 1));
        CHECK (told.kind == TakeKind::late);
        CHECK (told.line->late == Approx (late).margin (0.001));
    }
    CHECK (diagnose (struck (beats, 0.003, 1)).kind == TakeKind::inTime);
    for (const auto& mistake : rateMistakes())
    {
        const auto told = diagnose (struck (beats, 0, time::toDouble (mistake.ratio)));
        INFO (time::fractionText (mistake.ratio));
        REQUIRE (! told.mistakes.empty());
        CHECK (told.mistakes.front().ratio == mistake.ratio);
        // Without pitch a ratio of sample rates is left open.
        CHECK (told.kind == (mistake.sampleRate ? TakeKind::open : TakeKind::rateMistake));
    }
    const auto drift = diagnose (struck (beats, 0, 1.0035));
    CHECK (drift.kind == TakeKind::drift);
    CHECK (drift.mistakes.empty());
}

TEST_CASE ("One tempo throughout: that it may lie a whole beat off is always said")
{
    std::vector<double> beats;
    for (int i = 0; i < 100; ++i)
        beats.push_back (1 + 0.55 * i);
    for (const double late : { 0.0, 0.06, 0.55, -0.5 })
    {
        const auto told = diagnose (struck (beats, late, 1));
        CHECK_FALSE (told.mightBe.empty());
        bool said = std::abs (told.line->late - late) < 0.01;
        for (const double other : told.mightBe)
            said = said || std::abs (other - late) < 0.01;
        CHECK (said);
        bool words = false;
        for (const auto& sentence : told.sentences)
            words = words || sentence.find ("whole beat") != std::string::npos;
        CHECK (words);
    }
}

TEST_CASE ("Nothing is said on thin evidence")
{
    const auto few = diagnose (struck (uneven (7), 0.1, 1));
    CHECK (few.kind == TakeKind::thin);
    REQUIRE (! few.sentences.empty());
    CHECK (diagnose ({}).kind == TakeKind::thin);
    auto random = struck (uneven (100), 0, 1);
    std::uint32_t state = 7;
    for (auto& onset : random.sharp)
    {
        state = state * 1664525u + 1013904223u;
        onset.seconds = 1 + 56.0 * (state >> 8) / 16777216.0;
    }
    std::sort (random.sharp.begin(), random.sharp.end(), [] (const Onset& a, const Onset& b) { return a.seconds < b.seconds; });
    CHECK (diagnose (random).kind == TakeKind::thin);
}

TEST_CASE ("Rendered music: offsets, rates and free playing")
{
    // A small part of the table in TakeTable.cpp, which is hidden: [.long].
    if (const auto take = tests::listenTo (pieceOf (Players::piano, Playing::tight, 11, 0.045)))
    {
        CHECK (take->diagnosis.kind == TakeKind::late);
        CHECK (take->diagnosis.line->late == Approx (0.045).margin (0.005));
    }
    else
        return;
    const auto rate = tests::listenTo (pieceOf (Players::mixed, Playing::tight, 12, 0, 25.0 / 24));
    CHECK (rate->diagnosis.kind == TakeKind::rateMistake);
    CHECK (rate->diagnosis.mistakes.front().ratio == time::Rational (25, 24));
    const auto small = tests::listenTo (pieceOf (Players::piano, Playing::tight, 13, 0, 1000.0 / 1001));
    CHECK (small->diagnosis.kind == TakeKind::rateMistake);
    CHECK (small->diagnosis.mistakes.front().ratio == time::Rational (1000, 1001));
    const auto sampled = tests::listenTo (pieceOf (Players::piano, Playing::tight, 14), 160.0 / 147);
    CHECK (sampled->diagnosis.kind == TakeKind::sampleRate);
    const auto bowed = tests::listenTo (pieceOf (Players::strings, Playing::tight, 15, 0, 24.0 / 25));
    CHECK ((bowed->diagnosis.mistakes.empty() || bowed->diagnosis.mistakes.front().ratio == time::Rational (24, 25)));
    for (const auto playing : { Playing::loose, Playing::rubato })
        CHECK_FALSE (namesFault (tests::listenTo (pieceOf (Players::mixed, playing, 16))->diagnosis));
    CHECK_FALSE (namesFault (tests::listenTo (pieceOf (Players::piano, Playing::tight, 17))->diagnosis));
}
