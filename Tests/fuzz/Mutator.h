#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace shutterbeat::fuzz
{
/// Random numbers that are the same on every machine (SplitMix64, by Steele, Lea and Flood, 2014).
class Dice
{
public:
    explicit Dice (std::uint64_t seed)
        : state (seed)
    {
    }
    std::uint64_t next();
    /// 0 to `sides` - 1; 0 when sides is 0.
    std::size_t below (std::size_t sides) { return sides == 0 ? 0 : static_cast<std::size_t> (next() % sides); }

private:
    std::uint64_t state;
};

/// One of the seeds, changed in one to eight places: bits, bytes, numbers of the kinds that overflow, pieces left out, doubled
/// or taken from another seed. At most `largest` bytes.
std::string mutated (const std::vector<std::string>& seeds, Dice& dice, std::size_t largest);

/// Inputs that are small to write and large to read: a million brackets, elements and quotes within one another, entities that
/// double, lengths of 2 GB, digits and lines without end. None depends on the reader.
std::vector<std::string> hostileInputs();
} // namespace shutterbeat::fuzz
