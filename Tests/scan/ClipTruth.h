#pragma once

#include "scan/ScanResult.h"

#include <nlohmann/json.hpp>

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace shutterbeat::tests
{
/// A real clip with what is known of it.
struct Clip
{
    std::string name;
    nlohmann::json truth;
    bool silent = false; ///< of an old silent film
};

/// All clips whose cuts are known and whose files are there; empty where there is no test data.
std::vector<Clip> clips();
/// The clip's file.
std::string clipFile (const Clip& clip);

/// Whether a reported cut is neither right nor wrong: in a gradual change or round it.
bool isNeutral (const nlohmann::json& truth, std::int64_t cut);

/// How many cuts are right, invented and missed.
struct CutScore
{
    int right = 0, invented = 0, missed = 0;

    CutScore& operator+= (const CutScore& other);
    /// 2 right over (2 right + invented + missed); 1 where there is nothing to find and nothing was.
    [[nodiscard]] double f1() const;
};

/// Judges reported cuts below file frame `end` (none: all) by the truth, to the frame. `say` prints each that is wrong.
CutScore judged (const Clip& clip, const std::vector<std::int64_t>& cuts, bool say, std::int64_t end = INT64_MAX);

/// The cuts a scan claims: what it finds to be gradual is no claim.
std::vector<std::int64_t> claimedCuts (const scan::ScanResult& result);

/// Scans a file with the usual options.
scan::ScanResult scanned (const std::string& file);

/// The score of ffmpeg's scdet for every file frame (that the picture before it differs so much). Empty when ffmpeg fails.
std::vector<std::pair<std::int64_t, double>> differenceScores (const std::string& file);
} // namespace shutterbeat::tests
