#pragma once

#include "desk/OpenBook.h"
#include "desk/Progress.h"
#include "spotting/Times.h"

#include <optional>

namespace shutterbeat::desk
{
/// A sound to be added to a book, as far as the user said; what is empty is found in the file.
struct SoundWish
{
    std::string file;
    std::optional<std::string> at;   ///< a place in the picture ("film:1000", "-4.5s"), or an offset ("192000@48000")
    std::optional<std::string> cue;  ///< id or number of a cue: placed from its in unless `at` is given too
    std::optional<std::string> from; ///< offset from that cue's in: "-1/2s"
    std::optional<int> ltcChannel;   ///< read linear timecode from this channel, from 1
    std::size_t reel = 0;
    std::string name; ///< empty: the file's
    spotting::SoundKind kind = spotting::SoundKind::mix;
    time::Rational gain;
    bool muted = false;
    std::string note;
};

/// A sound ready to be added, and sentences for the user: how it was placed, what the file warns of.
struct FoundSound
{
    spotting::Sound sound;
    std::vector<std::string> notes;
};

/// Reads a file's facts and works out its place: as asked; else by linear timecode where a channel is named; else by the time
/// reference of its bext chunk; else by a cue whose number its file name begins with or holds as a word. Never a guess.
/// The sound is noted as made for the book's edition and delivery.
/// Error: unreadable; a place the film does not have; usage when nothing says where it belongs (the message says what was tried).
Result<FoundSound> findSound (const OpenBook& open, const spotting::BookTimes& times, const SoundWish& wish,
                              const Progress& progress = {});

/// The file of a sound as it can be opened.
std::string soundPath (const OpenBook& open, const spotting::Sound& sound);

/// A sound whose file is not where the book says, or is another.
struct MissingSound
{
    std::string id, path, why;
};
std::vector<MissingSound> missingSounds (const OpenBook& open);

/// The cue that a file's name speaks of: its number at the beginning of the name, or as a word in it; none when it names none, or
/// several. Case does not count.
const spotting::Cue* cueInName (const spotting::Book& book, const std::string& fileName);
} // namespace shutterbeat::desk
