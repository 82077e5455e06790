#include "Encoder.h"
#include "Screenplay.h"
#include "Truth.h"
#include "Wear.h"

extern "C"
{
#include <libavutil/log.h>
}

#include <cstdio>
#include <cstring>
#include <filesystem>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace
{

using namespace shutterbeat::demo;

/// Photographs, wears, pads and encodes one edition. Gives back a sentence when it cannot.
std::optional<std::string> makeEdition (const EditionPlan& plan, const std::string& path)
{
    Encoder encoder;
    if (auto error = encoder.open (path, plan.wear.toneU, plan.wear.toneV))
        return error;
    if (! encoder.isH264())
        std::fprintf (stderr, "edition %s: libx264 is missing, writing MPEG-4 instead of H.264\n", plan.letter.c_str());

    Stage stage;
    const int film = plan.filmFrames();
    const int total = firstFileFrame (film);
    WornPrint worn (plan.wear, film);
    std::vector<std::uint8_t> grey;
    int filmFrame = 0, fileFrame = 0;
    for (const Take& take : plan.takes)
    {
        stage.beginShot (take.shot.length);
        for (int k = take.from; k < take.shot.length; ++k, ++filmFrame)
        {
            photograph (stage, take.shot, k);
            stage.read (grey);
            const auto& luma = worn.print (grey, filmFrame, flashAt (plan, filmFrame));
            for (; fileFrame < total && filmFrameAt (fileFrame) == filmFrame; ++fileFrame)
            {
                if (auto error = encoder.write (luma, fileFrame > 0 && filmFrameAt (fileFrame - 1) == filmFrame))
                    return error;
                if (fileFrame % 250 == 0)
                    std::fprintf (stderr, "edition %s: %d of %d frames\n", plan.letter.c_str(), fileFrame, total);
            }
        }
    }
    if (auto error = encoder.finish())
        return error;
    std::fprintf (stderr, "edition %s: %d of %d frames, done: %s\n", plan.letter.c_str(), total, total, path.c_str());
    return std::nullopt;
}

int usage (const char* complaint)
{
    std::fprintf (stderr,
                  "%s\nUsage: shutterbeat-demofilm OUTFOLDER [--only a|b]\n"
                  "Writes edition-a.mp4, edition-b.mp4 and truth.json.\nExample: shutterbeat-demofilm demo/out\n",
                  complaint);
    return 2;
}

} // namespace

int main (int argc, char** argv)
{
    std::string folder, only;
    for (int i = 1; i < argc; ++i)
    {
        const std::string argument = argv[i];
        if (argument == "--help" || argument == "-h")
            return usage ("Draws and encodes the demo film."), 0;
        if (argument == "--only")
        {
            if (i + 1 >= argc || (std::strcmp (argv[i + 1], "a") != 0 && std::strcmp (argv[i + 1], "b") != 0))
                return usage ("--only wants a or b.");
            only = argv[++i];
        }
        else if (argument.starts_with ("-"))
            return usage (("Unknown option " + argument + ".").c_str());
        else if (folder.empty())
            folder = argument;
        else
            return usage ("Give one folder only.");
    }
    if (folder.empty())
        return usage ("Give the folder to write to.");
    std::error_code failed;
    std::filesystem::create_directories (folder, failed);
    if (failed)
    {
        std::fprintf (stderr, "%s: cannot make this folder: %s\n", folder.c_str(), failed.message().c_str());
        return 4;
    }

    av_log_set_level (AV_LOG_WARNING);
    const EditionPlan a = editionA(), b = editionB();
    std::optional<std::string> errorA, errorB;
    std::vector<std::thread> workers;
    if (only != "b")
        workers.emplace_back ([&] { errorA = makeEdition (a, folder + "/edition-a.mp4"); });
    if (only != "a")
        workers.emplace_back ([&] { errorB = makeEdition (b, folder + "/edition-b.mp4"); });
    for (std::thread& worker : workers)
        worker.join();
    const auto errorTruth = writeTruth (folder + "/truth.json", a, b);
    int status = 0;
    for (const auto& error : { errorA, errorB, errorTruth })
        if (error)
        {
            std::fprintf (stderr, "%s\n", error->c_str());
            status = 4;
        }
    return status;
}
