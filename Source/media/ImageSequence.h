#pragma once

#include "time/Result.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::media
{
/// A film that lies in a folder as one picture file a frame (DPX, TIFF, PNG and their kin), numbered in their names.
struct ImageSequence
{
    std::string folder;             ///< with a slash at its end, or empty: the current folder
    std::int64_t firstNumber = 0;   ///< the number in the name of file frame 0; frame k has firstNumber + k
    std::vector<std::string> names; ///< one a frame; empty where the numbering has a gap
    std::vector<std::string> warnings;

    [[nodiscard]] std::int64_t size() const { return static_cast<std::int64_t> (names.size()); }
    [[nodiscard]] bool has (std::int64_t frame) const { return ! names[static_cast<std::size_t> (frame)].empty(); }
    /// Path of a frame's file; only when has (frame).
    [[nodiscard]] std::string path (std::int64_t frame) const { return folder + names[static_cast<std::size_t> (frame)]; }
    /// The frames in the gaps.
    [[nodiscard]] std::int64_t missing() const;
};

/// Finds the sequence that `path` stands for: a folder that holds one, or the file it begins with. Nothing when path is
/// neither: no folder, and not the name of a numbered picture file.
/// A number that is not there is a missing frame, so that every later one keeps its place. Files with a lower number
/// than the one named are left out, and that is said.
/// Error unreadable, where = path: a folder without numbered pictures or with more than one series of them; numbers with
/// more gaps than pictures.
Result<std::optional<ImageSequence>> findSequence (const std::string& path);

/// True for names that end as picture files do: dpx, tif, tiff, png, jpg, jpeg, jp2, j2k, j2c, bmp, in any case.
bool isPictureName (const std::string& name);
} // namespace shutterbeat::media
