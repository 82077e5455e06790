#pragma once

#include <string>
#include <vector>

namespace shutterbeat::lineup
{
/// A published limit for sound against picture. Here, as everywhere in this program, what is measured is how late the sound is:
/// above zero late, below zero early. The documents count the other way round (ITU-R BT.1359: positive is sound early).
struct SyncLimit
{
    std::string name;
    double early = 0; ///< milliseconds of sound before picture that it allows
    double late = 0;  ///< and after it

    [[nodiscard]] bool holds (double lateMs) const { return lateMs >= -early && lateMs <= late; }
};

/// The narrowest first: AC-3 decoders, EBU R37 (a production stage; distribution), ATSC IS-191, ITU-R BT.1359-1 (detectability;
/// acceptability), film practice of ITU-R Report BS.1204.
const std::vector<SyncLimit>& syncLimits();

/// Names of those that a sound so late breaks, in the same order.
std::vector<std::string> brokenLimits (double lateMs);
} // namespace shutterbeat::lineup
