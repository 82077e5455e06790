// Real clips re-edited by chance, then cropped, regraded, worn, mirrored, padded and encoded again: how many film frames are
// found, and how exactly.

#include "bench/Report.h"

#include "scan/Reedit.h"

#include <algorithm>
#include <atomic>
#include <thread>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
struct Case
{
    std::string name;
    OtherPrint other;
    std::uint64_t seed = 0;
    MatchScore score;
    double frames = 0; ///< of the re-edited film
};

void measure (const Clips& clips, Case& one)
{
    const auto film = reedit (clips, one.other, one.seed);
    if (! film)
        bench::giveUp ("the re-edited film can't be encoded and decoded");
    one.frames = static_cast<double> (film->after.frames.size());
    one.score =
        scoreOf (*film, scan::matchPrints ({ film->before.frames, film->before.shots }, { film->after.frames, film->after.shots }));
}
} // namespace

int main()
{
    OtherPrint mild;
    mild.crop = 0.04;
    mild.gamma = 1.3;
    mild.weave = 2;
    mild.grain = 4;
    mild.flicker = 0.1;
    mild.dirt = 4;
    mild.crf = 26;
    OtherPrint heavy = mild;
    heavy.weave = 4;
    heavy.grain = 9;
    heavy.flicker = 0.2;
    heavy.dirt = 12;
    heavy.crf = 34;
    OtherPrint turned = heavy;
    turned.mirrored = true;
    OtherPrint padded = heavy;
    padded.speed = 18;
    std::vector<Case> cases;
    for (const auto& [name, other] : { std::pair ("mild", mild), std::pair ("heavy", heavy), std::pair ("heavy, mirrored", turned),
                                       std::pair ("heavy, 18 in 25", padded) })
        for (const std::uint64_t seed : { 1, 2 })
            cases.push_back ({ name, other, seed, {}, 0 });

    std::string why;
    const auto clips = readClips ({ "nosferatu_1922_letters_excerpt.mp4", "chaplin_1910s_oneshot.mp4",
                                    "rtn_oldfilm_oneshot_521f.mp4", "sintel_trailer_480p.mp4" },
                                  { "vhh_sbd_demo_test1.mpg", "psd_testvideo.mp4" }, why);
    if (! clips)
        bench::giveUp (why);
    std::atomic<std::size_t> next{ 0 };
    const auto work = [&]
    {
        for (auto i = next++; i < cases.size(); i = next++)
            measure (*clips, cases[i]);
    };
    std::vector<std::thread> others;
    for (unsigned i = 1; i < std::thread::hardware_concurrency(); ++i)
        others.emplace_back (work);
    work();
    for (auto& other : others)
        other.join();

    for (const auto& [name, other, seed, score, frames] : cases)
    {
        const std::string head = "re-edited clips, " + name + " " + std::to_string (seed);
        const double nearAim = other.mirrored ? 2 : 1;
        bench::report (head + ": not in the right shot", 100 - 100 * score.rightShot, 0.5,
                       std::to_string (score.kept) + " kept frames, " + std::to_string (score.dark) + " dark ones aside", "%");
        bench::report (head + ": not the exact frame", 100 - 100 * score.exact, other.mirrored ? 100 : 2, "repeats count as one",
                       "%");
        bench::report (head + ": more than one off", 100 - 100 * score.near, nearAim, "doubtful ones among them", "%");
        bench::report (head + ": more than one off, unsaid", 100.0 * score.wrongUnsaid / std::max (1, score.kept), 0.1,
                       std::to_string (score.wrongUnsaid) + " frames", "%");
        bench::report (head + ": in doubt", 100.0 * score.doubted / frames, name == "mild" ? 5 : 10,
                       std::to_string (score.doubts) + " questions to the user", "%");
        bench::report (head + ": foreign frames found", score.foreign, 0, "dark ones aside", "frames");
    }
}
