#pragma once

#include "film/Timings.h"

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::play
{
/// One picture of one reel file.
struct FrameKey
{
    std::size_t file = 0; ///< index into a FilmFiles list
    std::int64_t fileFrame = 0;

    friend auto operator<=> (const FrameKey&, const FrameKey&) = default;
};

/// The reel files of a book's prints in one row, so that a picture of any of them has a key.
class FilmFiles
{
public:
    /// `paths[p][r]` is where reel r of print p can be opened; empty where it is missing.
    FilmFiles() = default;
    FilmFiles (const std::vector<film::Print>& prints, const std::vector<std::vector<std::string>>& paths);

    [[nodiscard]] const std::vector<std::string>& paths() const { return allPaths; }
    /// The key of the picture at a position; none for a made one, outside the picture, and where the file is missing.
    [[nodiscard]] std::optional<FrameKey> keyAt (const film::Timings& timings, const film::Position& position) const;
    /// The key of a source film frame of a print; none where the print has no such frame or its file is missing.
    [[nodiscard]] std::optional<FrameKey> keyOf (const film::Print& print, std::int64_t filmFrame) const;

private:
    struct First
    {
        std::string print;
        std::size_t file = 0;
    };
    std::vector<First> firsts;
    std::vector<std::string> allPaths;
};

/// The keys to decode for a position, most wanted first: its own picture, then `count` pictures in the direction of travel
/// (1 or -1). Going back they are asked for in runs that rise, so that a long group of pictures is decoded once for each run.
std::vector<FrameKey> wantedKeys (const FilmFiles& files, const film::Timings& timings, const film::Position& position,
                                  int direction, int count);
} // namespace shutterbeat::play
