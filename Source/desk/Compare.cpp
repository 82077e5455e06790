#include "desk/Compare.h"

#include "desk/Fingerprints.h"

#include <algorithm>
#include <map>

namespace shutterbeat::desk
{
namespace
{
/// The print's shots by what `there` says of each of its frames: the other print's frame, or -1.
std::vector<ComparedShot> comparedShots (const std::vector<film::ScannedShot>& shots, const std::vector<std::int64_t>& there,
                                         const std::vector<film::ScannedShot>& otherShots)
{
    std::vector<ComparedShot> all;
    for (const auto& shot : shots)
    {
        ComparedShot compared{ shot.first, shot.end, shot.kind, 0, -1, -1 };
        std::map<int, std::int64_t> counts;
        for (auto n = shot.first; n < shot.end; ++n)
        {
            const auto other = there[static_cast<std::size_t> (n)];
            if (other < 0)
                continue;
            ++compared.shared;
            if (compared.otherFirst < 0)
                compared.otherFirst = other;
            const auto in = std::upper_bound (otherShots.begin(), otherShots.end(), other,
                                              [] (std::int64_t frame, const film::ScannedShot& s) { return frame < s.first; });
            ++counts[static_cast<int> (in - otherShots.begin()) - 1];
        }
        for (const auto& [index, count] : counts)
            if (compared.otherShot < 0 || count > counts[compared.otherShot])
                compared.otherShot = index;
        all.push_back (compared);
    }
    return all;
}
} // namespace

Result<Compared> comparePrints (const OpenBook& open, const std::string& one, const std::string& two, const Progress& progress)
{
    const auto find = [&] (const std::string& id)
    { return std::find_if (open.book.prints.begin(), open.book.prints.end(), [&] (const film::Print& p) { return p.id == id; }); };
    const auto first = find (one), second = find (two);
    if (first == open.book.prints.end() || second == open.book.prints.end())
        return usageError ("print " + (first == open.book.prints.end() ? one : two), "the book does not have it");
    const auto half = [&] (double from)
    { return [&progress, from] (double f, const std::string& what) { return ! progress || progress (from + f * 0.45, what); }; };
    const auto old = fingerprintsOf (open, *first, half (0));
    if (! old)
        return old.error();
    const auto now = fingerprintsOf (open, *second, half (0.45));
    if (! now)
        return now.error();
    auto match = scan::matchPrints ({ *old, first->scanned }, { *now, second->scanned });
    std::vector<std::int64_t> inSecond (old->size(), -1), inFirst (now->size(), -1);
    for (const auto& run : match.runs)
        for (std::int64_t k = 0; k < run.frames; ++k)
        {
            inFirst[static_cast<std::size_t> (run.newFirst + k)] = run.oldFirst + k;
            auto& there = inSecond[static_cast<std::size_t> (run.oldFirst + k)];
            if (there < 0)
                there = run.newFirst + k;
        }
    Compared compared;
    compared.one = comparedShots (first->scanned, inSecond, second->scanned);
    compared.two = comparedShots (second->scanned, inFirst, first->scanned);
    compared.runs = std::move (match.runs);
    compared.mirrored = match.mirrored;
    return compared;
}
} // namespace shutterbeat::desk
