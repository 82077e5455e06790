#pragma once

#include "sheets/Sheet.h"

namespace shutterbeat::sheets
{
/// The sound around a hit, for drawing: columns of equal time, the wanted moment in the middle.
struct SoundAround
{
    double seconds = 1;                           ///< from the left edge to the right one
    std::vector<std::pair<float, float>> outline; ///< lowest and highest sample of each column, full scale 1.0
    std::vector<double> onsets;                   ///< seconds from the wanted moment
    std::optional<double> heard;                  ///< likewise: the accent that was taken for the hit
};

/// A hit against one sound.
struct LineUpRow
{
    const spotting::HitTimes* hit = nullptr;
    std::string late;    ///< "12 ms late, 0.3 frames", "no clear accent here"
    bool beyond = false; ///< outside the hit's limits
    std::string breaks;  ///< published limits broken; "" for none
    SoundAround around;
};

/// One sound against the picture.
struct LineUpPart
{
    std::string sound, cue;                 ///< name; number, "" when it is no cue's
    std::string place;                      ///< where it starts
    std::vector<std::string> faults, facts; ///< sentences about the whole sound
    std::vector<LineUpRow> rows;
    std::string counts; ///< "9 within their limits, 2 beyond"
};

/// What became of a sound after a recut: "1M2.wav, cue 1M2", "stands", why.
struct StandLine
{
    std::string sound, stand, why;
    bool good = false;
};

/// The line-up report: sound by sound what is wrong with the whole, then every hit with its picture, the sound around it (a broken
/// line where the music was wanted, a full one where it was heard) and how late it is; last, what stands after a recut.
/// Error: Cairo could not write.
Result<Sheet> lineUpSheet (const spotting::BookTimes& times, const SheetHead& head, const std::vector<LineUpPart>& parts,
                           const std::vector<StandLine>& stands, const PictureAt& pictureAt = {});
} // namespace shutterbeat::sheets
