#include "play/Follower.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::play
{
namespace
{
/// What the turn of the speed gains in variance a second: a projector's speed swings by some per cent in minutes. Chosen on
/// simulated evenings (Tests/play/ShowingTests.cpp): smaller follows too slowly, larger believes every ragged tap.
constexpr double turnWanders = 1e-9;
constexpr double slowest = .1; // a film that runs slower than this stands

/// A turn is believed for this long; after it the speed is taken to stay, so that it never runs away.
constexpr double turnLasts = 30;
} // namespace

void Follower::start (double where, double speed, const Doubt& doubt)
{
    state = { where, speed, 0 };
    doubts = {};
    doubts[0][0] = doubt.place * doubt.place;
    doubts[1][1] = doubt.rate * doubt.rate;
    doubts[2][2] = doubt.turn * doubt.turn;
}

void Follower::put (double where, double ragged)
{
    state[0] = where;
    for (std::size_t i = 0; i < 3; ++i)
        doubts[0][i] = doubts[i][0] = 0;
    doubts[0][0] = ragged * ragged * state[1] * state[1];
}

Follower::Matrix Follower::later (const Matrix& now, double t)
{
    const double move[3][3] = { { 1, t, t * t / 2 }, { 0, 1, t }, { 0, 0, 1 } };
    Matrix half{}, after{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
            for (std::size_t k = 0; k < 3; ++k)
                half[i][j] += move[i][k] * now[k][j];
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
            for (std::size_t k = 0; k < 3; ++k)
                after[i][j] += half[i][k] * move[j][k];
    const double t2 = t * t, t3 = t2 * t, t4 = t3 * t, t5 = t4 * t;
    const double wander[3][3] = { { t5 / 20, t4 / 8, t3 / 6 }, { t4 / 8, t3 / 3, t2 / 2 }, { t3 / 6, t2 / 2, t } };
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
            after[i][j] += turnWanders * wander[i][j];
    return after;
}

void Follower::advance (double seconds)
{
    if (! (seconds > 0))
        return;
    const double turning = std::min (seconds, turnLasts);
    state[0] = placeAfter (seconds);
    state[1] += state[2] * turning;
    if (seconds > turnLasts)
        state[2] = 0;
    doubts = later (doubts, seconds);
}

void Follower::seen (double where, double ragged)
{
    const double noise = ragged * ragged * state[1] * state[1];
    const double sum = doubts[0][0] + noise, off = where - state[0];
    const double gain[3] = { doubts[0][0] / sum, doubts[1][0] / sum, doubts[2][0] / sum };
    const auto row = doubts[0];
    for (std::size_t i = 0; i < 3; ++i)
    {
        state[i] += gain[i] * off;
        for (std::size_t j = 0; j < 3; ++j)
            doubts[i][j] -= gain[i] * row[j];
    }
}

double Follower::rateDoubt() const
{
    return std::sqrt (std::max (0.0, doubts[1][1]));
}

double Follower::placeAfter (double seconds) const
{
    const double turning = std::clamp (seconds, -turnLasts, turnLasts);
    return state[0] + state[1] * seconds + state[2] * turning * (seconds - turning / 2);
}

double Follower::doubtAfter (double seconds) const
{
    return std::sqrt (std::max (0.0, later (doubts, std::max (0.0, seconds))[0][0])) / std::max (slowest, state[1]);
}

double Follower::until (double where) const
{
    // By the speed it will have on the way: a few rounds settle it, as the speed changes by little.
    double seconds = (where - state[0]) / std::max (slowest, state[1]);
    for (int round = 0; round < 4; ++round)
    {
        const double turning = std::clamp (seconds, -turnLasts, turnLasts);
        const double speed = std::max (slowest, state[1] + state[2] * turning);
        seconds += (where - placeAfter (seconds)) / speed;
    }
    return seconds;
}
} // namespace shutterbeat::play
