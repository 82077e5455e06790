// Two prints of a long film, fingerprints given: how long it takes to find every film frame of one in the other, how much
// memory, and how both grow with the film's length.

#include "bench/Report.h"

#include "scan/DrawnPrints.h"
#include "scan/Match.h"

#include <cstdint>
#include <ctime>
#include <string>
#include <sys/resource.h>

using namespace shutterbeat;

namespace
{
double seconds()
{
    return static_cast<double> (std::clock()) / CLOCKS_PER_SEC;
}

double megabytes()
{
    rusage used{};
    getrusage (RUSAGE_SELF, &used);
    return static_cast<double> (used.ru_maxrss) / 1024;
}
} // namespace

int main()
{
    double perShot = 0;
    for (const int shots : { 150, 300, 600, 1200 })
    {
        tests::DrawnPrint before, after;
        for (int i = 0; i < shots; ++i)
            tests::addShot (before, static_cast<std::uint64_t> (i) + 1, 0, 120, {}, 120 * static_cast<std::int64_t> (i));
        const tests::DrawnLook worn{ 30, 1, false, 5 };
        for (int i = 0; i < shots; ++i)
        {
            // Every tenth is gone, every tenth trimmed, every tenth two places on; now and then one is new.
            const int shot = i % 10 == 4 && i + 2 < shots ? i + 2 : i % 10 == 6 ? i - 2 : i;
            if (i % 10 == 9)
                continue;
            const std::int64_t from = i % 10 == 2 ? 12 : 0;
            tests::addShot (after, static_cast<std::uint64_t> (shot) + 1, from, 120, worn, 120 * static_cast<std::int64_t> (shot));
            if (i % 25 == 0)
                tests::addShot (after, static_cast<std::uint64_t> (i) + 1000000, 0, 80, worn, -1);
        }
        const double start = seconds();
        const auto match = scan::matchPrints ({ before.frames, before.shots }, { after.frames, after.shots });
        const double took = seconds() - start;
        std::int64_t right = 0, kept = 0, wrong = 0;
        for (std::size_t n = 0; n < after.frames.size(); ++n)
        {
            const auto found = match.oldFrameOf (static_cast<std::int64_t> (n));
            kept += after.truth[n] >= 0 ? 1 : 0;
            right += after.truth[n] >= 0 && found == after.truth[n] ? 1 : 0;
            wrong += after.truth[n] < 0 && found >= 0 ? 1 : 0;
        }
        const std::string name = "match " + std::to_string (before.frames.size()) + " by " + std::to_string (after.frames.size());
        bench::report (name + " film frames", took, 2, "processor time of one core, fingerprints given", "s");
        bench::report (name + ", memory", megabytes(), 300, "the most ever in use, the fingerprints of both prints included", "MB");
        bench::report (name + ", wrong frames", 100 - 100.0 * static_cast<double> (right) / static_cast<double> (kept), 1,
                       std::to_string (wrong) + " new frames taken for old ones", "%");
        if (perShot > 0)
            bench::report (name + ", cost a shot / at half the length", took / shots / perShot, 1.35, "1 is linear");
        perShot = took / shots;
    }
}
