#pragma once

#include <array>

namespace shutterbeat::play
{
/// Where something is that moves fairly steadily, how fast, and how its speed turns, followed from ragged sightings by a Kalman
/// filter (R. E. Kalman 1960; the usual model of three states whose speed turns at a rate that wanders slowly). Lengths are what
/// the caller counts in, here planned seconds of a film; times are seconds. A plain value.
class Follower
{
public:
    /// How ragged the first guess is, as standard deviations.
    struct Doubt
    {
        double place = .2, rate = .04, turn = 2e-4;
    };
    void start (double where, double speed, const Doubt& doubt);
    /// Puts it somewhere, whatever was thought before; what is known of its speed stays, and where is unknown by `ragged`.
    void put (double where, double ragged);

    /// Time goes on.
    void advance (double seconds);
    /// It was seen there, within a standard deviation of `ragged` seconds.
    void seen (double where, double ragged);

    [[nodiscard]] double place() const { return state[0]; }
    [[nodiscard]] double rate() const { return state[1]; }
    /// Standard deviation of the speed.
    [[nodiscard]] double rateDoubt() const;
    /// Where it will be so many seconds from now.
    [[nodiscard]] double placeAfter (double seconds) const;
    /// Standard deviation of that, in seconds.
    [[nodiscard]] double doubtAfter (double seconds) const;
    /// Seconds until it is there; below zero: since it was.
    [[nodiscard]] double until (double where) const;

private:
    using Matrix = std::array<std::array<double, 3>, 3>;
    static Matrix later (const Matrix& doubts, double seconds);

    std::array<double, 3> state{ 0, 1, 0 };
    Matrix doubts{};
};
} // namespace shutterbeat::play
