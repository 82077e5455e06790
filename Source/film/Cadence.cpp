#include "film/Cadence.h"

#include <algorithm>

namespace shutterbeat::film
{
namespace
{
constexpr std::int64_t mostFrames = std::int64_t{ 1 } << 24; // three days at 60 a second; a hostile book can not fill the memory
constexpr std::size_t longestCycle = 50;                     // 24 in 50 fields is 25 long; twice that finds every tabulated cadence

/// How many of lengths[from..] repeat with period `period`, counting the first period itself.
std::size_t periodicLength (const std::vector<int>& lengths, std::size_t from, std::size_t period)
{
    std::size_t n = from + period;
    while (n < lengths.size() && lengths[n] == lengths[n - period])
        ++n;
    return std::min (n, lengths.size()) - from;
}
} // namespace

Cadence::Cadence() = default;

Cadence Cadence::oneToOne (std::int64_t fileFrames)
{
    Cadence cadence;
    cadence.files = fileFrames;
    return cadence;
}

Result<Cadence> Cadence::fromStarts (std::vector<std::int64_t> starts, std::int64_t fileFrames)
{
    for (std::size_t i = 0; i < starts.size(); ++i)
        if ((i == 0 && starts[0] != 0) || (i > 0 && starts[i] <= starts[i - 1]) || starts[i] >= fileFrames)
            return usageError ("cadence",
                               "film frame " + std::to_string (i) + " does not start after the one before it inside the file");
    if (starts.empty() != (fileFrames == 0))
        return usageError ("cadence", "a file with frames shows at least one film frame");
    Cadence cadence = oneToOne (fileFrames);
    if (static_cast<std::int64_t> (starts.size()) != fileFrames)
        cadence.starts = std::make_shared<const std::vector<std::int64_t>> (std::move (starts));
    return cadence;
}

Result<Cadence> Cadence::fromRuns (const std::vector<CadenceRun>& runs)
{
    std::vector<std::int64_t> starts;
    std::int64_t file = 0;
    for (const auto& run : runs)
    {
        if (run.cycle.empty() || run.filmFrames < 1 || run.filmFrames > mostFrames)
            return usageError ("cadence", "a run needs a cycle and at least one film frame");
        for (std::int64_t i = 0; i < run.filmFrames; ++i)
        {
            const int length = run.cycle[static_cast<std::size_t> (i) % run.cycle.size()];
            if (length < 1 || file + length > mostFrames)
                return usageError ("cadence", "a film frame is shown by at least one file frame, and a file has fewer than 2^24");
            starts.push_back (file);
            file += length;
        }
    }
    return fromStarts (std::move (starts), file);
}

std::int64_t Cadence::filmFrames() const
{
    return starts ? static_cast<std::int64_t> (starts->size()) : files;
}

std::int64_t Cadence::filmFrameAt (std::int64_t file) const
{
    if (! starts)
        return file;
    return std::upper_bound (starts->begin(), starts->end(), file) - starts->begin() - 1;
}

std::int64_t Cadence::firstFileFrame (std::int64_t film) const
{
    if (! starts)
        return film;
    return film < filmFrames() ? (*starts)[static_cast<std::size_t> (film)] : files;
}

std::vector<CadenceRun> Cadence::runs() const
{
    if (files == 0)
        return {};
    if (! starts)
        return { { { 1 }, files } };
    std::vector<int> lengths;
    for (std::int64_t k = 0; k < filmFrames(); ++k)
        lengths.push_back (static_cast<int> (firstFileFrame (k + 1) - firstFileFrame (k)));

    std::vector<CadenceRun> found;
    for (std::size_t at = 0; at < lengths.size();)
    {
        std::size_t bestPeriod = 1;
        std::size_t bestLength = periodicLength (lengths, at, 1);
        for (std::size_t period = 2; period <= longestCycle && at + period <= lengths.size(); ++period)
        {
            const std::size_t length = periodicLength (lengths, at, period);
            // A longer cycle must earn the room it takes.
            if (length > bestLength + period && length >= 2 * period)
            {
                bestLength = length;
                bestPeriod = period;
            }
        }
        const auto first = lengths.begin() + static_cast<std::ptrdiff_t> (at);
        found.push_back ({ { first, first + static_cast<std::ptrdiff_t> (bestPeriod) }, static_cast<std::int64_t> (bestLength) });
        at += bestLength;
    }
    return found;
}

bool operator== (const Cadence& a, const Cadence& b)
{
    if (a.files != b.files || a.filmFrames() != b.filmFrames())
        return false;
    return a.starts == b.starts || (a.starts && b.starts && *a.starts == *b.starts);
}
} // namespace shutterbeat::film
