#pragma once

#include "desk/OpenBook.h"
#include "spotting/Carry.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// Whether a sound can stay as it is.
enum class Stand
{
    stands,
    retime, ///< stands once it is made longer or shorter as a whole
    edit,   ///< needs a few cuts or extensions
    again,  ///< has to be played again
    unknown ///< what it was made for, or where it belongs, is not known
};

/// "stands", "re-time", "edit", "play again", "not known".
std::string standName (Stand stand);

/// A place where a sound has too much or too little.
struct StandEdit
{
    double at = 0;      ///< seconds from the sound's sample 0
    double seconds = 0; ///< of music to be put in; below zero: to be taken out
    double frames = 0;  ///< the same in delivered frames
    std::string bar;    ///< "bar 12 beat 3", where the cue has a tempo
    double beats = 0;   ///< the same in beats of the tempo there; 0 without a tempo
};

/// What became of one sound.
struct SoundStand
{
    spotting::Sound sound;
    std::string cue; ///< number
    Stand stand = Stand::unknown;
    double factor = 1; ///< retime: how many times as long it has to be
    std::vector<StandEdit> edits;
    std::string why; ///< one sentence
};

/// Every sound of the book against the edition and delivery it was made for: which still stand in the edition worked on. One that
/// is no cue's is judged by the picture that it lies under.
/// A cue with more than three changes, or of whose music more than a quarter comes and goes, is played again (common practice, no
/// source). Error: as spotting::carry.
Result<std::vector<SoundStand>> soundStands (const spotting::Book& book);
} // namespace shutterbeat::desk
