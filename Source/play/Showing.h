#pragma once

#include "play/Follower.h"
#include "time/Result.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::play
{
/// What a player at a live showing waits for.
enum class ShowKind
{
    cut,
    card,
    hit,
    cueIn,
    cueOut
};

/// A shot of the film as it should run in the house.
struct ShowShot
{
    double seconds = 0; ///< how long it lasts at the speed the house is to project
    std::size_t reel = 0;
    bool card = false;
    std::string words; ///< a card's wording
};

/// A moment to be played to.
struct ShowEvent
{
    ShowKind kind = ShowKind::cut;
    std::size_t shot = 0; ///< the shot it lies in ...
    double into = 0;      ///< ... and seconds from its head
    std::string label;
    std::string detail; ///< of a cue: its piece, mood or tempo
};

/// Follows a projector that nobody can read: from when the reel's first picture came, and from taps at cards and cuts that were
/// seen, it works out where the film is and how fast it runs, and foretells what comes. Seconds of the house's clock come from
/// the caller, in any one origin, never running back. A plain value: a copy taken before a tap takes the tap back.
///
/// Position and speed are followed by a Follower; a tap is 80 ms ragged (common practice, no source).
class Showing
{
public:
    Showing() = default;
    /// Shots in the order of the edition, one at least; events in any order. Error: an event outside its shot list, a shot
    /// without length.
    static Result<Showing> of (std::vector<ShowShot> shots, std::vector<ShowEvent> events);

    // --- What the player does.

    /// The first picture of the reel at hand is on the screen.
    void firstPicture (double clock);
    /// The reel is over, or the film stands: nothing moves until firstPicture(). The reel after it is at hand then.
    void reelOver (double clock);
    /// A card or cut was seen. Gives the event it was taken for; none when no card or cut that was not seen yet is near enough,
    /// and then nothing changes.
    std::optional<std::size_t> tap (double clock);
    /// This event is on the screen now, wherever the film was thought to be. Shots between are struck out when `lacking`.
    void seen (std::size_t event, double clock, bool lacking);
    /// A shot that the print does not have, or has after all: what lies in it is struck out and takes no time.
    void strike (std::size_t shot, bool lacks);

    // --- What the player wants to know.

    [[nodiscard]] bool running() const { return runs; }
    [[nodiscard]] std::size_t reel() const { return reelAtHand; }
    [[nodiscard]] std::size_t reelCount() const { return shots.empty() ? 0 : shots.back().reel + 1; }
    /// Speed of the projector against what was planned: 1.02 is two per cent fast.
    [[nodiscard]] double speed() const { return film.rate(); }
    /// How far off the foretold moment of what comes next may be: one standard deviation, seconds.
    [[nodiscard]] double unsure (double clock) const;
    [[nodiscard]] std::size_t taps() const { return tapCount; }
    /// Planned seconds from the film's first picture, struck shots left out.
    [[nodiscard]] double seconds (double clock) const;
    [[nodiscard]] std::size_t shotAt (double clock) const;

    [[nodiscard]] const std::vector<ShowShot>& allShots() const { return shots; }
    /// In the order they come.
    [[nodiscard]] const std::vector<ShowEvent>& all() const { return events; }
    [[nodiscard]] bool struck (std::size_t event) const { return lacks[events[event].shot]; }
    [[nodiscard]] bool lacksShot (std::size_t shot) const { return lacks[shot]; }
    /// Planned seconds of an event, struck shots left out.
    [[nodiscard]] double secondsOf (std::size_t event) const;
    /// Seconds of the house's clock until it comes; below zero: since.
    [[nodiscard]] double until (std::size_t event, double clock) const;
    /// The events still to come that are not struck out, at most so many.
    [[nodiscard]] std::vector<std::size_t> coming (double clock, std::size_t most) const;
    /// The cue that runs: the event of its in.
    [[nodiscard]] std::optional<std::size_t> cueNow (double clock) const;
    /// Cards whose wording has a word that begins with these letters, the next one first; case and accents as typed apart
    /// from case of plain letters.
    [[nodiscard]] std::vector<std::size_t> cardsLike (const std::string& letters, double clock) const;

private:
    void predict (double clock);
    void lay();
    [[nodiscard]] double reelStart (std::size_t which) const;

    std::vector<ShowShot> shots;
    std::vector<ShowEvent> events;
    std::vector<bool> lacks;    ///< one a shot
    std::vector<double> starts; ///< planned seconds of each shot's head, struck ones left out; one more for the end

    bool runs = false;
    std::size_t reelAtHand = 0, tapCount = 0;
    std::optional<std::size_t> lastTapped;
    double at = 0; ///< house clock of the state below
    Follower film; ///< in planned seconds
};
} // namespace shutterbeat::play
