#include "Catch.h"

#include "Reedit.h"

#include <iostream>

using namespace shutterbeat;
using namespace shutterbeat::tests;

// The whole measurement, over more clips and other wear, is shutterbeat_bench_MatchFilms.
TEST_CASE ("Real clips, re-edited, cropped, worn and encoded again, are found by their pictures")
{
    OtherPrint other;
    other.crop = 0.04;
    other.gamma = 1.3;
    other.weave = 4;
    other.grain = 9;
    other.flicker = 0.2;
    other.dirt = 12;
    other.crf = 34;
    std::string why;
    const auto clips =
        readClips ({ "nosferatu_1922_letters_excerpt.mp4", "chaplin_1910s_oneshot.mp4" }, { "vhh_sbd_demo_test1.mpg" }, why);
    if (! clips)
    {
        WARN ("real clips not re-edited: " << why);
        return;
    }
    const auto film = reedit (*clips, other, 3);
    REQUIRE (film);
    const auto score =
        scoreOf (*film, scan::matchPrints ({ film->before.frames, film->before.shots }, { film->after.frames, film->after.shots }));
    std::cout << "re-edited clips: " << score.kept << " frames kept (" << score.dark << " dark ones aside), right shot "
              << score.rightShot << ", exact " << score.exact << ", within one " << score.near << ", foreign " << score.foreign
              << ", doubts " << score.doubts << " of " << score.doubted << " frames, wrong unsaid " << score.wrongUnsaid << "\n";
    CHECK (score.kept > 800);
    CHECK (score.rightShot >= 0.995);
    CHECK (score.near >= 0.98);
    CHECK (score.foreign == 0);
    CHECK (score.wrongUnsaid == 0);
    CHECK (score.doubted <= 0.1 * score.kept);
}
