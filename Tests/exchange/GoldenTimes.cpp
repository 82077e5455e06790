// One book exported to every format at every rate and both fills: each place, read back from each file, is the same delivered
// frame. golden.sh does the same with readers that are not ours.
#include "exchange/Golden.h"
#include "exchange/ListChecks.h"

#include "exchange/Chapters.h"
#include "exchange/CmxList.h"
#include "exchange/CmxRead.h"
#include "exchange/CsvList.h"
#include "exchange/MidiCueFile.h"
#include "exchange/MidiRead.h"
#include "exchange/MusicXmlFile.h"
#include "exchange/MusicXmlRead.h"
#include "exchange/OtioFile.h"
#include "exchange/OtioRead.h"
#include "exchange/TextList.h"
#include "exchange/TimedText.h"
#include "exchange/WavRead.h"
#include "exchange/WebPage.h"
#include "time/Clock.h"
#include "time/Timecode.h"

#include <map>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>
#include <set>
#include <sstream>

using namespace shutterbeat;
using Frames = std::map<std::string, std::int64_t>; ///< delivered frame of each place, by the id of what is pinned to it

namespace
{

/// What the table is checked against: hits by id, cues by id and "in" or "out", shots by id.
struct Truth
{
    Frames hits, ins, outs, shots;
    std::map<std::string, std::string> hitOfText; ///< ids by label
};

Truth truthOf (const spotting::BookTimes& times)
{
    Truth truth;
    for (const auto& row : times.hits)
        if (row.at)
            truth.hits[row.hit.id] = row.at->delivered;
    for (const auto& row : times.cues)
    {
        truth.ins[row.cue.id] = row.in->delivered;
        truth.outs[row.cue.id] = row.out->delivered;
    }
    for (std::size_t i = 0; i < times.timings.edition().shots.size(); ++i)
        truth.shots[times.timings.edition().shots[i].id] = times.timings.times (times.timings.shotHead (i)).delivered;
    return truth;
}

struct Found
{
    Frames hits, ins, outs, shots;
};

using Reader = std::function<Found (const spotting::BookTimes&)>;

Found fromCsv (const spotting::BookTimes& times, const exchange::CsvLook& look)
{
    Found found;
    const auto& rate = times.timings.delivery().rate;
    const auto hits = *exchange::readHitList (exchange::writeHitList (times, tests::head, look).parts[0].bytes);
    const auto cues = *exchange::readCueList (exchange::writeCueList (times, tests::head, look).parts[0].bytes);
    for (const auto& hit : hits.hits)
        if (hit.lost.empty())
        {
            found.hits[hit.id] = *hit.deliveredFrame;
            CHECK (time::parseLabel (hit.timecode, rate)->value - times.timings.startCount() == *hit.deliveredFrame);
            if (*hit.deliveredFrame < 0)
                continue; // before picture start a place is exact seconds, between frames
            CHECK (*hit.clockExact * rate.perSecond == time::Rational (*hit.deliveredFrame));
            CHECK (time::roundOf (*hit.clock * rate.perSecond) == *hit.deliveredFrame); // hundredths are finer than frames
        }
    for (const auto& cue : cues.cues)
    {
        found.ins[cue.id] = *cue.inDelivered;
        found.outs[cue.id] = *cue.outDelivered;
        CHECK (time::parseLabel (cue.outTimecode, rate)->value - times.timings.startCount() == *cue.outDelivered);
    }
    return found;
}

Found fromCmx (const spotting::BookTimes& times)
{
    Found found;
    const auto list =
        *exchange::readCmxList (exchange::writeCmxList (times, tests::head)->parts[0].bytes, times.timings.delivery().rate);
    CHECK (list.bad.empty());
    CHECK (list.warnings.empty());
    const auto start = times.timings.startCount();
    CHECK (list.start() == start);
    const auto& shots = times.timings.edition().shots;
    for (std::size_t i = 0; i < list.shots().size(); ++i)
        found.shots[shots[i].id] = list.shots()[i].start;
    // Comments name a hit by its label; those with none by their place in the list.
    std::vector<const spotting::HitTimes*> placed;
    for (const auto& row : times.hits)
        if (row.at)
            placed.push_back (&row);
    REQUIRE (list.hits.size() == placed.size());
    for (std::size_t i = 0; i < placed.size(); ++i)
        found.hits[placed[i]->hit.id] = list.hits[i].count - start;
    for (const auto& cue : list.cues)
        for (const auto& row : times.cues)
            if (row.cue.number == cue.number)
            {
                found.ins[row.cue.id] = cue.in - start;
                found.outs[row.cue.id] = cue.out - start;
            }
    return found;
}

Found fromOtio (const spotting::BookTimes& times)
{
    Found found;
    const auto timeline = *exchange::readOtio (exchange::writeOtio (times, tests::head)->parts[0].bytes);
    CHECK (*timeline.globalStart * timeline.rate.perSecond == time::Rational (times.timings.startCount()));
    for (std::size_t i = 0; i < timeline.clips.size(); ++i)
        found.shots[times.timings.edition().shots[i].id] = timeline.frameOf (timeline.clips[i].start);
    for (const auto& marker : timeline.markers)
        if (marker.ours.contains ("hit"))
            found.hits[marker.ours.at ("hit")] = timeline.frameOf (marker.start);
        else
        {
            found.ins[marker.ours.at ("cue")] = timeline.frameOf (marker.start);
            found.outs[marker.ours.at ("cue")] = timeline.frameOf (marker.start + marker.duration);
        }
    return found;
}

using WriteTexts = exchange::Written (*) (const spotting::BookTimes&, const exchange::ListHead&, exchange::TimedWhat);

Found fromTexts (const spotting::BookTimes& times, WriteTexts write)
{
    Found found;
    const auto& rate = times.timings.delivery().rate.perSecond;
    std::vector<std::string> ids;
    for (const auto& row : times.hits)
        if (row.at)
            ids.push_back (row.hit.id);
    const auto texts = *exchange::readTimedTexts (write (times, tests::head, exchange::TimedWhat::hits).parts[0].bytes);
    REQUIRE (texts.texts.size() == ids.size());
    for (std::size_t i = 0; i < ids.size(); ++i)
        found.hits[ids[i]] = time::roundOf (texts.texts[i].start * rate);
    found.hits["anna-28"] = times.hits[0].at->delivered; // before picture start: said, and at zero
    CHECK (texts.texts[0].start == time::Rational (0));
    const auto cards = *exchange::readTimedTexts (write (times, tests::head, exchange::TimedWhat::cards).parts[0].bytes);
    const std::vector<std::string> cardIds{ "s2", "s6", "s10" };
    REQUIRE (cards.texts.size() == cardIds.size());
    for (std::size_t i = 0; i < cardIds.size(); ++i)
        found.shots[cardIds[i]] = time::roundOf (cards.texts[i].start * rate);
    return found;
}

Found fromChapters (const spotting::BookTimes& times)
{
    Found found;
    const auto list = *exchange::readChapters (exchange::writeChapters (times, tests::head)->parts[0].bytes);
    for (const auto& chapter : list.chapters)
        for (const auto& row : times.cues)
            if (row.cue.title == chapter.title)
            {
                const auto frames = chapter.start * times.timings.delivery().rate.perSecond;
                CHECK (frames.isWhole());
                found.ins[row.cue.id] = time::roundOf (frames);
            }
    return found;
}

Found fromMidi (const spotting::BookTimes& times)
{
    Found found;
    const auto& rate = times.timings.delivery().rate.perSecond;
    const auto midi = *exchange::readMidiFile (exchange::writeMidiFile (times, tests::head)->parts[0].bytes);
    for (const auto& marker : midi.markers)
        for (const auto& row : times.cues)
            if (marker.text == row.cue.number + " " + row.cue.title)
                found.ins[row.cue.id] = time::roundOf (marker.seconds * rate);
    // Hits on one tick share a cue point, all named.
    std::set<std::int64_t> frames;
    for (const auto& point : midi.cuePoints)
        frames.insert (time::roundOf (point.seconds * rate));
    for (const auto& row : times.hits)
        if (row.at && row.at->delivered >= 0 && frames.contains (row.at->delivered))
            found.hits[row.hit.id] = row.at->delivered;
    std::set<std::int64_t> wanted;
    for (const auto& row : times.hits)
        if (row.at)
            wanted.insert (std::max<std::int64_t> (row.at->delivered, 0));
    CHECK (frames == wanted);
    found.hits["anna-28"] = times.hits[0].at->delivered; // before picture start: placed at it, and said
    return found;
}

/// A cue's own file: cue points lie lead and all from bar 1, whose moment is known.
Found fromMidiCues (const spotting::BookTimes& times)
{
    Found found;
    const auto& rate = times.timings.delivery().rate.perSecond;
    const auto written = *exchange::writeMidiCues (times, tests::head);
    std::size_t part = 0;
    for (const auto& row : times.cues)
    {
        if (! row.cue.tempo)
            continue;
        const auto midi = *exchange::readMidiFile (written.parts[part++].bytes);
        for (const auto i : row.hits)
        {
            // Where the music is to strike: the picture and its lead, to a part of a frame that no rounding hides.
            const auto& hit = times.hits[i];
            const auto wanted = hit.at->clock + hit.hit.lead - *row.barOne;
            const bool there = std::any_of (midi.cuePoints.begin(), midi.cuePoints.end(),
                                            [&] (const auto& point)
                                            {
                                                const auto apart = point.seconds - wanted;
                                                return apart < time::Rational (1, 1000) && apart > time::Rational (-1, 1000);
                                            });
            found.hits[hit.hit.id] = there ? hit.at->delivered : -1;
        }
        found.ins[row.cue.id] = time::roundOf (*row.barOne * rate);
    }
    return found;
}

/// Every line of a hit begins with its timecode and its delivered frame.
Found fromPlainText (const spotting::BookTimes& times)
{
    Found found;
    const auto& rate = times.timings.delivery().rate;
    std::istringstream text (exchange::writeTextList (times, tests::head).parts[0].bytes);
    std::vector<std::pair<std::int64_t, std::string>> lines;
    std::string line;
    while (std::getline (text, line))
    {
        const auto code = line.rfind ("  ", 0) == 0 && line.size() > 14 && line[2] != ' ' ? line.substr (2, 11) : std::string();
        if (const auto label = time::parseLabel (code, rate); ! code.empty() && label)
        {
            std::istringstream rest (line.substr (13));
            std::string day, frame;
            rest >> frame;
            if (frame == "(-1")
                rest >> day >> frame;
            lines.emplace_back (std::stoll (frame), line);
            const auto labels = time::labelsPerDay (rate);
            CHECK ((label->value - times.timings.startCount() - lines.back().first) % labels == 0);
        }
    }
    for (const auto& row : times.hits)
        if (row.at)
            for (const auto& [frame, words] : lines)
                if (words.find (row.hit.label.empty() ? std::string (spotting::hitKindName (row.hit.kind)) : row.hit.label)
                        != std::string::npos
                    && (! row.hit.label.empty() || frame == row.at->delivered))
                    found.hits[row.hit.id] = frame;
    return found;
}

/// A hit's words stand above its bar, as many divisions after its beginning as its beat is; the score's own tempo map, laid from
/// bar 1 on, gives the moment, which has to lie nearest to the picture with its lead.
Found fromScores (const spotting::BookTimes& times)
{
    Found found;
    const auto& rate = times.timings.delivery().rate.perSecond;
    const auto written = *exchange::writeMusicXml (times, tests::head);
    std::size_t part = 0;
    for (const auto& row : times.cues)
    {
        if (! row.cue.tempo)
            continue;
        const auto& bytes = written.parts[part++].bytes;
        const auto score = *exchange::readMusicXml (bytes);
        pugi::xml_document document;
        REQUIRE (document.load_buffer (bytes.data(), bytes.size()));
        for (const auto& direction : document.select_nodes ("//direction"))
        {
            const std::string words = direction.node().select_node ("direction-type/words").node().text().get();
            const auto measure = direction.node().parent();
            const auto divisions = document.select_node ("//divisions").node().text().as_int();
            const auto bar = score.map.barStart (measure.attribute ("number").as_int());
            const auto beat = bar + time::Rational (direction.node().child ("offset").text().as_int(), divisions);
            const auto at = *row.barOne + score.map.timeOf (beat);
            for (const auto i : row.hits)
            {
                const auto& hit = times.hits[i];
                const auto name = hit.hit.label.empty() ? std::string (spotting::hitKindName (hit.hit.kind)) : hit.hit.label;
                if (words.rfind (name + " (", 0) == 0)
                    found.hits[hit.hit.id] = time::roundOf ((at - hit.hit.lead) * rate);
            }
        }
        found.ins[row.cue.id] = time::roundOf (*row.barOne * rate);
    }
    return found;
}

/// What the page carries for its own script, and the script's label of each frame is tested in a browser.
Found fromPage (const spotting::BookTimes& times)
{
    Found found;
    const auto page =
        exchange::writeWebPage (times, tests::head, { { { "movie.mp4", 0 } }, "ida", "Ida", 1, "", 0 })->parts[0].bytes;
    const std::string opening = "id=\"book\">";
    const auto from = page.find (opening) + opening.size();
    const auto book = nlohmann::json::parse (page.substr (from, page.find ("</script>", from) - from));
    CHECK (book["reels"][0]["start"] == times.timings.startCount());
    CHECK (book["rate"][0].get<std::int64_t>() * times.timings.delivery().rate.perSecond.denominator()
           == book["rate"][1].get<std::int64_t>() * times.timings.delivery().rate.perSecond.numerator());
    for (const auto& hit : book["hits"])
        if (! hit["frame"].is_null())
            found.hits[hit["id"]] = hit["frame"];
    for (const auto& cue : book["cues"])
    {
        found.ins[cue["id"]] = cue["in"];
        found.outs[cue["id"]] = cue["out"];
    }
    return found;
}

/// Points of a sound that begins at picture start of the film's grid.
Found fromWav (const spotting::BookTimes& times)
{
    Found found;
    const auto& rate = times.timings.delivery().rate.perSecond;
    exchange::WavLook look;
    std::vector<std::string> ids;
    for (const auto& row : times.hits)
        if (row.at && row.at->delivered >= 0)
        {
            look.cues.push_back (
                { static_cast<std::uint32_t> (ids.size() + 1), time::sampleAt (row.at->clock, 48000), row.hit.label });
            ids.push_back (row.hit.id);
        }
    auto bytes = exchange::wavHead (look, 10);
    exchange::appendSamples (bytes, std::vector<float> (10, 0.0f));
    const auto info = *exchange::readWavInfo (bytes);
    REQUIRE (info.cues.size() == ids.size());
    for (const auto& cue : info.cues)
        found.hits[ids[cue.id - 1]] = time::roundOf (time::Rational (cue.sample, 48000) * rate);
    return found;
}
} // namespace

TEST_CASE ("golden times: every place is the same delivered frame in every file, at every rate and both fills")
{
    const std::vector<std::pair<std::string, Reader>> readers{
        { "csv", [] (const auto& t) { return fromCsv (t, {}); } },
        { "csv, european", [] (const auto& t) { return fromCsv (t, exchange::CsvLook::european()); } },
        { "tsv",
          [] (const auto& t) {
              return fromCsv (t, { false, '\t', '.' });
          } },
        { "cmx3600", fromCmx },
        { "otio", fromOtio },
        { "webvtt", [] (const auto& t) { return fromTexts (t, exchange::writeWebVtt); } },
        { "srt", [] (const auto& t) { return fromTexts (t, exchange::writeSrt); } },
        { "chapters", fromChapters },
        { "midi", fromMidi },
        { "midi, a cue", fromMidiCues },
        { "musicxml, a cue", fromScores },
        { "plain text", fromPlainText },
        { "wav points", fromWav },
        { "web page", fromPage },
    };
    for (const auto& golden : tests::goldenRates())
    {
        const auto times = tests::goldenTimes (golden);
        const auto truth = truthOf (times);
        REQUIRE (truth.hits.size() == 19);
        // The table itself rests on the rules alone: ceil (T * R) at the rate that is counted in.
        for (const auto& row : times.hits)
            if (row.at && row.at->sourceFrame)
                CHECK (row.at->delivered
                       == time::ceilOf (time::Rational (*row.at->sourceFrame, 20) * times.timings.delivery().countingRate()));
        for (const auto& [format, reader] : readers)
        {
            INFO (golden.name() << " " << format);
            const auto found = reader (times);
            CHECK (found.hits.size() + found.ins.size() + found.shots.size() > 2);
            const auto same = [] (const Frames& some, const Frames& all)
            {
                for (const auto& [id, frame] : some)
                {
                    INFO (id);
                    REQUIRE (all.contains (id));
                    CHECK (frame == all.at (id));
                }
            };
            same (found.hits, truth.hits);
            same (found.ins, truth.ins);
            same (found.outs, truth.outs);
            same (found.shots, truth.shots);
            // A list that has hits has all of them, but for cue files, which have their cue's.
            if (! found.hits.empty() && format.find (", a cue") == std::string::npos && format != "wav points")
                CHECK (found.hits.size() == truth.hits.size());
        }
    }
}
