#pragma once

#include "film/Unknown.h"
#include "time/Rational.h"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::film
{
/// What a run of pictures is: action, an intertitle or other writing, or nothing.
enum class ShotKind
{
    shot,
    card,
    black
};

/// "shot", "card" or "black": the fixed English word of files and lists.
std::string_view shotKindName (ShotKind kind);
/// The kind of that name, or nothing.
std::optional<ShotKind> shotKindNamed (std::string_view name);

/// A run of film frames of one print as an edition uses it, or a made card, freeze or black with a length in seconds.
struct Shot
{
    std::string id;   ///< stays with the shot through recuts
    std::string name; ///< what people call it: a number at first
    ShotKind kind = ShotKind::shot;
    std::string print;                   ///< id of the print; empty for a made one
    std::int64_t first = 0;              ///< first source film frame, counted over the print's reels
    std::int64_t end = 0;                ///< one past the last
    std::optional<time::Rational> made;  ///< exact seconds of a made one; then first and end are not used
    std::optional<time::Rational> speed; ///< running speed of this shot; none: the edition's
    std::string wording;                 ///< what a card says
    bool remade = false; ///< in this edition it takes the place of one that was otherwise: newly shot, set or printed
    std::string reason;  ///< why this source: why made, remade, or taken from this print; empty: nobody said
    double strength = 0; ///< how sure the scan was of the change at its head, 0 to 1; 1 by hand
    bool locked = false; ///< a person decided its edges and kind: a new scan leaves it alone
    Unknown unknown;

    /// Where it comes from, in one word: "remade", "made", or "" for pictures of a print as they are.
    [[nodiscard]] std::string_view making() const { return remade ? "remade" : made ? "made" : ""; }
    /// Film frames; 0 for a made one.
    [[nodiscard]] std::int64_t frames() const { return made ? 0 : end - first; }

    friend bool operator== (const Shot&, const Shot&) = default;
};
} // namespace shutterbeat::film
