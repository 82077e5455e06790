#pragma once

#include "time/Result.h"

#include <cstdint>
#include <memory>
#include <vector>

namespace shutterbeat::film
{
/// A repeating pattern of how many file frames show each film frame, as a book file keeps it.
struct CadenceRun
{
    std::vector<int> cycle;      ///< file frames per film frame, each 1 or more
    std::int64_t filmFrames = 0; ///< film frames that follow the cycle, starting at its first entry

    friend bool operator== (const CadenceRun&, const CadenceRun&) = default;
};

/// Which film frame each frame of one file shows. Film frames and file frames are both counted from 0;
/// every file frame shows exactly one film frame, in order. A value; copies share their data.
class Cadence
{
public:
    /// Nothing at all: no frames.
    Cadence();

    /// A file that repeats nothing.
    static Cadence oneToOne (std::int64_t fileFrames);

    /// From the first file frame of each film frame, rising from 0. Error: not rising, or not below fileFrames.
    static Result<Cadence> fromStarts (std::vector<std::int64_t> starts, std::int64_t fileFrames);

    /// From runs as runs() gives them. Error: an empty cycle, a count below 1, more than 2^24 frames.
    static Result<Cadence> fromRuns (const std::vector<CadenceRun>& runs);

    [[nodiscard]] std::int64_t filmFrames() const;
    [[nodiscard]] std::int64_t fileFrames() const { return files; }
    [[nodiscard]] bool isOneToOne() const { return filmFrames() == files; }

    /// The film frame that file frame `file` (0 to fileFrames() - 1) shows.
    [[nodiscard]] std::int64_t filmFrameAt (std::int64_t file) const;
    /// The first file frame that shows film frame `film` (0 to filmFrames(); the last gives fileFrames()).
    [[nodiscard]] std::int64_t firstFileFrame (std::int64_t film) const;

    /// The same in the fewest runs a simple search finds; a regular cadence is one or two runs.
    [[nodiscard]] std::vector<CadenceRun> runs() const;

    friend bool operator== (const Cadence& a, const Cadence& b);

private:
    std::int64_t files = 0;
    std::shared_ptr<const std::vector<std::int64_t>> starts; ///< null for one to one
};
} // namespace shutterbeat::film
