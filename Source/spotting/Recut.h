#pragma once

#include "film/Unknown.h"
#include "time/Result.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::spotting
{
/// What is in doubt about two runs of pictures.
enum class Doubt
{
    shot,  ///< whether they are the same shot
    frame, ///< the same shot, but which frame is which
    card   ///< whether a card stands for another, with other words or another design
};

/// What somebody decided.
enum class Answer
{
    pending,
    same, ///< as proposed, or moved by PendingMatch::moved
    other ///< they have nothing to do with each other
};

/// "shot", "frame", "card".
std::string_view doubtName (Doubt doubt);
/// "pending", "same", "other".
std::string_view answerName (Answer answer);
Result<Doubt> parseDoubt (std::string_view text);
Result<Answer> parseAnswer (std::string_view text);

/// Two runs of pictures for a person to look at side by side.
struct PendingMatch
{
    std::string id; ///< the new edition's letter, a dash and a counter
    Doubt doubt = Doubt::shot;
    std::string print; ///< of the new pictures
    std::int64_t first = 0;
    std::string other; ///< print of the old pictures
    std::int64_t otherFirst = 0;
    std::int64_t frames = 0; ///< of both; for a card, of the shorter
    std::string shot;        ///< id of the new shot as long as it is not the old one's successor
    std::string otherShot;   ///< id of the old shot
    int sure = 0;            ///< thousandths
    Answer answer = Answer::pending;
    std::int64_t moved = 0; ///< film frames that the old run begins later than proposed
    film::Unknown unknown;

    friend bool operator== (const PendingMatch&, const PendingMatch&) = default;
};

/// From one edition to the next: what the pictures left to a person.
struct Recut
{
    std::string before; ///< letters
    std::string after;
    std::vector<PendingMatch> matches;
    film::Unknown unknown;

    friend bool operator== (const Recut&, const Recut&) = default;
};
} // namespace shutterbeat::spotting
