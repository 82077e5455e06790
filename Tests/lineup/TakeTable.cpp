#include "Catch.h"

#include "Takes.h"

#include <array>
#include <cmath>
#include <cstdio>
#include <map>

using namespace shutterbeat;
using namespace shutterbeat::lineup;
using tests::Piece;
using tests::Players;
using tests::Playing;

namespace
{
constexpr std::array<Players, 3> allPlayers{ Players::piano, Players::mixed, Players::strings };

const char* nameOf (Players players)
{
    return players == Players::piano ? "piano" : players == Players::mixed ? "mixed" : "strings";
}

bool names (const Diagnosis& diagnosis)
{
    return diagnosis.kind == TakeKind::drift || diagnosis.kind == TakeKind::rateMistake || diagnosis.kind == TakeKind::sampleRate
           || diagnosis.kind == TakeKind::late;
}

Piece pieceOf (Players players, Playing playing, std::uint32_t seed, double seconds)
{
    Piece piece;
    piece.players = players;
    piece.playing = playing;
    piece.seed = seed;
    piece.seconds = seconds;
    return piece;
}

/// True when the truth is the answer or is said to fit nearly as well.
bool saidOrHedged (const Diagnosis& diagnosis, double late)
{
    if (std::abs (diagnosis.line->late - late) < 0.1)
        return true;
    for (const double other : diagnosis.mightBe)
        if (std::abs (other - late) < 0.1)
            return true;
    return false;
}
} // namespace

TEST_CASE ("Table: constant offsets of tight playing", "[.long]")
{
    for (const auto players : allPlayers)
    {
        int within = 0, of = 0, thin = 0, hedged = 0, beatsOff = 0;
        double worst = 0;
        std::uint32_t seed = 1000;
        for (const double ms : { 1., 2., 5., 10., 20., 30., 45., 60., 80., 100., 130., 160., 200. })
        {
            ++seed;
            auto piece =
                pieceOf (players, Playing::tight, seed + 100 * static_cast<std::uint32_t> (players), seed % 2 == 0 ? 60 : 40);
            piece.late = ms / 1000;
            const auto take = tests::listenTo (piece);
            if (! take)
                return;
            const auto& told = take->diagnosis;
            ++of;
            if (told.kind == TakeKind::thin)
            {
                ++thin;
                continue;
            }
            const double off = 1000 * told.line->late - ms;
            worst = std::max (worst, std::abs (off));
            within += std::abs (off) <= 5 ? 1 : 0;
            hedged += told.mightBe.empty() ? 0 : 1;
            beatsOff += saidOrHedged (told, piece.late) ? 0 : 1;
            if (std::abs (off) > 5)
                std::printf ("  %s seed %u, %.0f ms: found %.1f ms, %s\n", nameOf (players), piece.seed, ms, 1000 * told.line->late,
                             takeKindName (told.kind).c_str());
        }
        std::printf ("constant offsets 1 to 200 ms, %s: %d of %d within 5 ms, %d thin, worst %.1f ms; a beat off unsaid %d, whole "
                     "beats hedged %d\n",
                     nameOf (players), within, of, thin, worst, beatsOff, hedged);
        CHECK (within + thin == of);
        CHECK (beatsOff == 0);
    }
}

TEST_CASE ("Table: rate mistakes of tight playing", "[.long]")
{
    int named = 0, hedged = 0, wrong = 0, missed = 0, of = 0, beatsOff = 0;
    std::uint32_t seed = 2000;
    for (const auto players : allPlayers)
        for (const auto& mistake : rateMistakes())
        {
            const double ratio = time::toDouble (mistake.ratio);
            if (std::abs (ratio - 1) > 0.14)
                continue;
            ++seed;
            auto piece = pieceOf (players, Playing::tight, seed, seed % 2 == 0 ? 60 : 45);
            piece.slower = mistake.sampleRate ? 1 : ratio;
            const auto take = tests::listenTo (piece, mistake.sampleRate ? ratio : 1);
            if (! take)
                return;
            const auto& told = take->diagnosis;
            ++of;
            bool among = false;
            for (const auto& one : told.mistakes)
                among = among || (one.ratio == mistake.ratio && one.sampleRate == mistake.sampleRate);
            const bool right = (told.kind == TakeKind::rateMistake || told.kind == TakeKind::sampleRate) && among;
            const bool bad = names (told) && ! right;
            named += right ? 1 : 0;
            wrong += bad ? 1 : 0;
            hedged += ! right && ! bad && among ? 1 : 0;
            missed += ! right && ! bad && ! among ? 1 : 0;
            beatsOff += told.kind == TakeKind::thin || saidOrHedged (told, piece.late) || ! right ? 0 : 1;
            if (! right)
                std::printf ("  %s seed %u, %s: %s, ratio %.5f +- %.5f, score %.2f\n", nameOf (players), piece.seed,
                             time::fractionText (mistake.ratio).c_str(), takeKindName (told.kind).c_str(),
                             told.line ? told.line->ratio : 0, told.line ? told.line->ratioError : 0,
                             told.line ? told.line->score : 0);
        }
    std::printf ("rate mistakes, tight: %d of %d named, %d hedged, %d missed, %d named wrongly, %d a beat off unsaid\n", named, of,
                 hedged, missed, wrong, beatsOff);
    CHECK (wrong == 0);
    CHECK (beatsOff == 0);
    CHECK (10 * named >= 9 * of);
}

namespace
{
/// Sounds with nothing the matter, `each` of every players: none may be named late, drifting or at a wrong rate.
void honest (const char* what, Playing playing, int each, std::uint32_t seed)
{
    std::map<std::string, int> kinds;
    int named = 0, hedged = 0, of = 0;
    for (const auto players : allPlayers)
        for (int i = 0; i < each; ++i)
        {
            const auto piece = pieceOf (players, playing, ++seed, i % 3 == 0 ? 40 : 60);
            const auto take = tests::listenTo (piece);
            if (! take)
                return;
            const auto& told = take->diagnosis;
            ++of;
            ++kinds[takeKindName (told.kind)];
            named += names (told) ? 1 : 0;
            hedged += told.kind == TakeKind::open ? 1 : 0;
            if (names (told) || told.kind == TakeKind::open)
                std::printf ("  %s seed %u: %s, late %.1f +- %.1f ms, ratio %.5f +- %.5f, score %.2f, scatter %.1f\n",
                             nameOf (players), piece.seed, takeKindName (told.kind).c_str(), 1000 * told.line->late,
                             1000 * told.line->lateError, told.line->ratio, told.line->ratioError, told.line->score,
                             1000 * told.line->scatter);
        }
    std::printf ("%s: %d sounds, %d named, %d hedged:", what, of, named, hedged);
    for (const auto& [kind, count] : kinds)
        std::printf (" %s %d", kind.c_str(), count);
    std::printf ("\n");
    CHECK (named == 0);
}
} // namespace

TEST_CASE ("Table: honest sounds of tight playing", "[.long]")
{
    honest ("honest, tight", Playing::tight, 24, 3000);
}

TEST_CASE ("Table: honest sounds of human playing", "[.long]")
{
    honest ("honest, human", Playing::human, 10, 3072);
}

TEST_CASE ("Table: loose playing", "[.long]")
{
    honest ("loose", Playing::loose, 8, 3102);
}

TEST_CASE ("Table: rubato playing", "[.long]")
{
    honest ("rubato", Playing::rubato, 8, 3126);
}
