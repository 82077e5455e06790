#pragma once

#include "spotting/Edit.h"
#include "spotting/Times.h"

namespace shutterbeat::spotting
{
/// Adds sounds for a person; their ids are given here. Error: a cue that is not there, a reel or a place more than a day away,
/// a rate, channel count or length no sound has, a gain outside -120 to +24 decibels.
Result<Edited> addSounds (const Book& book, const std::string& person, std::vector<Sound> sounds);
/// Replaces the sound of that id. Error: no such sound, or what addSounds refuses.
Result<Book> setSound (const Book& book, const Sound& sound);
/// Takes sounds out of the book; their files stay. Error: an id the book does not have; then nothing is removed.
Result<Book> removeSounds (const Book& book, const std::vector<std::string>& ids);

const Sound* soundOf (const Book& book, const std::string& id);
/// A sound by its id or, when no other has it, its name. Error: none, or several of that name.
Result<Sound> soundNamed (const Book& book, const std::string& idOrName);

/// Where a sound starts in an edition as delivered.
struct SoundStart
{
    std::size_t reel = 0;
    time::Rational clock; ///< exact seconds from picture start of that reel
};

/// Error: the cue it is counted from is gone, or has no in in this edition.
Result<SoundStart> startOf (const Book& book, const film::Timings& timings, const Sound& sound);

/// Seconds from picture start of a reel at which a time stamp of samples after midnight lies: the label of picture start is
/// taken as that many frames' time after midnight (handbook 7.4, EBU Tech 3285), midnight passed at most once.
/// Error: a rate without timecode, or a stamp more than `tolerance` seconds before or after the reel.
Result<time::Rational> placeOfTimeStamp (const film::Timings& timings, std::size_t reel, std::int64_t timeReference, int rate,
                                         const time::Rational& tolerance = time::Rational (600));
} // namespace shutterbeat::spotting
