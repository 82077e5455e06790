#include "Catch.h"

#include "ClipTruth.h"
#include "Wear.h"

#include <filesystem>
#include <iostream>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// Ours and ffmpeg's scdet on the same files.
struct Comparison
{
    CutScore silent, all;
    struct Scores
    {
        Clip clip;
        std::vector<std::pair<std::int64_t, double>> scores;
    };
    std::vector<Scores> others;

    void add (const Clip& clip, const std::string& file, std::int64_t end)
    {
        const auto score = judged (clip, claimedCuts (scanned (file)), true, end);
        all += score;
        if (clip.silent)
            silent += score;
        others.push_back ({ clip, differenceScores (file) });
    }

    /// The F1 of scdet at the one threshold that is best for these files.
    [[nodiscard]] double bestOfOthers (bool silentOnly, std::int64_t end) const
    {
        double best = 0;
        for (double threshold = 1; threshold <= 60; threshold += 0.5)
        {
            CutScore score;
            for (const auto& other : others)
            {
                if (silentOnly && ! other.clip.silent)
                    continue;
                std::vector<std::int64_t> cuts;
                for (const auto& [frame, value] : other.scores)
                    if (value >= threshold && frame > 0)
                        cuts.push_back (frame);
                score += judged (other.clip, cuts, false, end);
            }
            best = std::max (best, score.f1());
        }
        return best;
    }

    void print (const std::string& what, std::int64_t end) const
    {
        std::cout << what << ": silent F1 " << silent.f1() << " (scdet at its best " << bestOfOthers (true, end) << "), all F1 "
                  << all.f1() << " (" << bestOfOthers (false, end) << ")\n";
    }
};

std::string wornFile (const Clip& clip, std::int64_t frames)
{
    const auto file = (std::filesystem::temp_directory_path() / ("shutterbeat-worn-" + clip.name + ".mp4")).string();
    const auto failed = wearFilm (clipFile (clip), file, {}, 34, frames);
    INFO (failed.value_or (""));
    REQUIRE_FALSE (failed);
    return file;
}
} // namespace

TEST_CASE ("Worn clips: a sample beside a plain difference detector")
{
    constexpr std::int64_t end = 290;
    Comparison worn;
    for (const Clip& clip : clips())
        if (clip.name.rfind ("nosferatu", 0) == 0 || clip.name.rfind ("chaplin", 0) == 0)
        {
            const auto frames = clip.name.rfind ("chaplin", 0) == 0 ? 120 : end;
            const auto file = wornFile (clip, frames);
            worn.add (clip, file, frames - 10);
            std::filesystem::remove (file);
        }
    if (worn.others.empty())
    {
        WARN ("no real clips below SHUTTERBEAT_TEST_DATA: none worn");
        return;
    }
    worn.print ("worn, a sample", end);
    CHECK (worn.all.missed == 0);
    CHECK (worn.all.invented == 0);
    CHECK (worn.all.f1() >= worn.bestOfOthers (false, end)); // on so short a sample both may find everything
}

TEST_CASE ("All clips plain and worn, beside a plain difference detector", "[.long]")
{
    Comparison plain, worn;
    for (const Clip& clip : clips())
    {
        plain.add (clip, clipFile (clip), INT64_MAX);
        const auto file = wornFile (clip, 0);
        worn.add (clip, file, INT64_MAX);
        std::filesystem::remove (file);
    }
    if (plain.others.empty())
    {
        WARN ("no real clips below SHUTTERBEAT_TEST_DATA");
        return;
    }
    plain.print ("plain", INT64_MAX);
    worn.print ("worn", INT64_MAX);
    CHECK (plain.silent.f1() == 1);
    CHECK (plain.all.f1() >= 0.97);
    CHECK (worn.silent.f1() >= 0.97);
    CHECK (worn.all.f1() >= 0.95);
    CHECK (plain.all.f1() > plain.bestOfOthers (false, INT64_MAX));
    CHECK (worn.all.f1() > worn.bestOfOthers (false, INT64_MAX));
}
