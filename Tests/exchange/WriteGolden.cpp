// Writes the lists of the golden-times table, a folder a rate, into the folder named by SHUTTERBEAT_OUT, with what they should
// say in expected.json, for readers that are not ours.
#include "exchange/Golden.h"

#include "exchange/Chapters.h"
#include "exchange/OtioFile.h"
#include "exchange/TimedText.h"
#include "exchange/WavFile.h"
#include "time/Clock.h"

#include <filesystem>
#include <fstream>

using namespace shutterbeat;

TEST_CASE ("write the golden lists")
{
    const char* out = std::getenv ("SHUTTERBEAT_OUT");
    REQUIRE (out != nullptr);
    const exchange::ListHead head{ "The Runaway Ladder", "2026-05-01" };
    for (const auto& golden : tests::goldenRates())
    {
        const auto folder = std::filesystem::path (out) / golden.name();
        std::filesystem::create_directories (folder);
        const auto save = [&] (const std::string& name, const std::string& bytes)
        {
            std::ofstream file (folder / name, std::ios::binary);
            file << bytes;
            REQUIRE (file.good());
        };
        const auto times = tests::goldenTimes (golden);
        const auto& rate = times.timings.delivery().rate.perSecond;
        save ("list.otio", exchange::writeOtio (times, head)->parts[0].bytes);
        save ("hits.vtt", exchange::writeWebVtt (times, head, exchange::TimedWhat::hits).parts[0].bytes);
        save ("cards.vtt", exchange::writeWebVtt (times, head, exchange::TimedWhat::cards).parts[0].bytes);
        save ("hits.srt", exchange::writeSrt (times, head, exchange::TimedWhat::hits).parts[0].bytes);
        save ("chapters.ffmeta", exchange::writeChapters (times, head)->parts[0].bytes);
        exchange::WavLook look;
        look.timeReference = 172800000;
        std::string hits, cues, shots;
        const auto add = [] (std::string& list, const std::string& id, std::int64_t frame, std::int64_t end = -1) {
            list += (list.empty() ? "" : ", ") + ("\"" + id + "\": [" + std::to_string (frame) + ", " + std::to_string (end) + "]");
        };
        for (const auto& row : times.hits)
            if (row.at)
            {
                add (hits, row.hit.id, row.at->delivered);
                if (row.at->delivered >= 0)
                    look.cues.push_back (
                        { static_cast<std::uint32_t> (look.cues.size() + 1), time::sampleAt (row.at->clock, 48000), row.hit.id });
            }
        for (const auto& row : times.cues)
            add (cues, row.cue.id, row.in->delivered, row.out->delivered);
        for (std::size_t i = 0; i < times.timings.edition().shots.size(); ++i)
            add (shots, times.timings.edition().shots[i].id, times.timings.times (times.timings.shotHead (i)).delivered);
        auto wav = exchange::wavHead (look, 1001);
        exchange::appendSamples (wav, std::vector<float> (1001, 0.5f));
        exchange::endWav (wav);
        save ("points.wav", wav);
        save ("expected.json", "{ \"numerator\": " + time::fractionText (time::Rational (rate.numerator(), 1))
                                   + ", \"denominator\": " + time::fractionText (time::Rational (rate.denominator(), 1))
                                   + ", \"start\": " + std::to_string (times.timings.startCount()) + ", \"hits\": { " + hits
                                   + " }, \"cues\": { " + cues + " }, \"shots\": { " + shots + " } }\n");
    }
}
