#include "exchange/SampleBook.h"

#include "desk/Import.h"
#include "exchange/Chapters.h"
#include "exchange/CmxList.h"
#include "exchange/CsvList.h"
#include "exchange/OtioFile.h"
#include "exchange/TimedText.h"
#include "exchange/WavFile.h"
#include "spotting/History.h"
#include "time/Clock.h"

#include <map>

using namespace shutterbeat;
using desk::ImportChange;
using Kind = ImportChange::Kind;

namespace
{
const exchange::ListHead head{ "The Runaway Ladder", "2026-05-01" };

desk::ImportPlan planOf (const spotting::Book& book, const std::string& format, const std::string& bytes,
                         const desk::ImportWish& wish = {})
{
    auto plan = desk::planImport ({ book, "kite.shutterbeat", "" }, format, bytes, wish);
    if (! plan)
        FAIL (plan.error().text());
    return std::move (*plan);
}

bool said (const desk::ImportPlan& plan, const std::string& part)
{
    return std::any_of (plan.changes.begin(), plan.changes.end(),
                        [&] (const ImportChange& change) { return change.what.find (part) != std::string::npos; });
}

std::string replaced (std::string text, const std::string& from, const std::string& to)
{
    const auto at = text.find (from);
    REQUIRE (at != std::string::npos);
    return text.replace (at, from.size(), to);
}

/// A book of its own for hits that come in by place alone.
spotting::Book bare()
{
    auto book = tests::comedy ("25");
    book.hits = std::vector<spotting::HitPoint>{};
    return book;
}
} // namespace

TEST_CASE ("our own lists change nothing, at any rate they were made at")
{
    const auto book = tests::comedy ("25");
    for (const char* rate : { "23.976", "25", "29.97df" })
    {
        spotting::Asked asked;
        asked.rate = time::parseRate (rate)->value;
        const auto times = tests::timed (book, asked);
        const auto hits = planOf (book, "csv", exchange::writeHitList (times, head, exchange::CsvLook::european()).parts[0].bytes);
        CHECK (hits.bad.empty());
        CHECK (hits.count (Kind::same) == book.hits.size());
        CHECK (hits.book == book);
        const auto cues = planOf (book, "cues-csv", exchange::writeCueList (times, head).parts[0].bytes);
        CHECK (cues.bad.empty());
        CHECK (cues.count (Kind::same) == 3);
        CHECK (cues.book == book);
    }
}

TEST_CASE ("changed lines change their hit, list what changed, and are one step")
{
    const auto book = tests::comedy ("25");
    auto text = exchange::writeHitList (tests::timed (book), head).parts[0].bytes;
    text = replaced (text, "First rung breaks", "The rung breaks");
    text = replaced (text, "Splash,effect,must", "Splash,stop,may");
    const auto plan = planOf (book, "csv", text);
    CHECK (plan.count (Kind::changed) == 2);
    CHECK (said (plan, "label \"First rung breaks\" to \"The rung breaks\""));
    CHECK (said (plan, "kind effect to stop, weight must to may"));
    CHECK (spotting::hitOf (plan.book, "anna-12")->label == "The rung breaks");
    CHECK (spotting::hitOf (plan.book, "anna-12")->note == spotting::hitOf (book, "anna-12")->note);
    CHECK (plan.book.hits.size() == book.hits.size());
}

TEST_CASE ("two hits on one place become one with both names, none lost, none moved")
{
    const auto book = tests::comedy ("25");
    const std::string list = "label,film_frame,kind,weight\n"
                             "A bell,500,effect,may\n"
                             "A door,500,entrance,must\n"
                             "Crack,178,gag,must\n"
                             "First rung breaks,178,gag,must\n"
                             "Alone,501,action,should\n";
    const auto plan = planOf (book, "csv", list, { "ida", {}, 0 });
    CHECK (plan.count (Kind::added) == 2);
    CHECK (plan.count (Kind::merged) == 2);
    CHECK (plan.count (Kind::same) == 1);
    CHECK (plan.book.hits.size() == book.hits.size() + 2);
    const auto& bell = *spotting::hitOf (plan.book, "ida-1");
    CHECK (bell.label == "A bell / A door");
    CHECK (bell.weight == spotting::Weight::must);
    CHECK (bell.kind == spotting::HitKind::effect);
    CHECK (spotting::hitOf (plan.book, "anna-12")->label == "First rung breaks / Crack");
    CHECK (spotting::hitOf (plan.book, "anna-12")->place == spotting::hitOf (book, "anna-12")->place);
    // The same list again: nothing is new.
    const auto again = planOf (plan.book, "csv", list, { "ida", {}, 0 });
    CHECK (again.book == plan.book);
    CHECK (again.count (Kind::same) == 5);
}

TEST_CASE ("bad lines are listed with number and reason, the good ones come in")
{
    const auto plan = planOf (
        bare(), "csv", "label,timecode,cue\nGood,01:00:02:00,1M1\nLate,02:00:00:00,\nTorn,soon,\nFew\nOther,01:00:03:00,9M9\n");
    CHECK (plan.count (Kind::added) == 2);
    REQUIRE (plan.bad.size() == 3);
    CHECK (plan.bad[0].line == 3);
    CHECK (plan.bad[1].line == 4);
    CHECK (plan.bad[2].line == 5);
    CHECK (plan.book.hits[0].cue == "anna-1");
    CHECK (plan.book.hits[1].cue.empty());
    CHECK (std::any_of (plan.notes.begin(), plan.notes.end(),
                        [] (const auto& note) { return note.find ("9M9") != std::string::npos; }));
}

TEST_CASE ("hits on cuts and cards come in on their edges")
{
    const auto plan =
        planOf (bare(), "csv", "label,film_frame,kind\nThe card,90,card\nA cut,210,cut\nAn action,90,action\nOff,91,cut\n");
    REQUIRE (plan.book.hits.size() == 3); // the action shares the card's place
    CHECK (std::get<film::EdgePlace> (plan.book.hits[0].place).shot == "s2");
    CHECK (plan.book.hits[0].label == "The card / An action");
    CHECK (std::get<film::EdgePlace> (plan.book.hits[1].place).shot == "s3");
    CHECK (std::holds_alternative<film::PicturePlace> (plan.book.hits[2].place));
}

TEST_CASE ("every format brings each hit to its picture again")
{
    const auto book = tests::comedy ("25");
    for (const char* rate : { "23.976", "24", "25", "29.97df" })
    {
        spotting::Asked asked;
        asked.rate = time::parseRate (rate)->value;
        const auto times = tests::timed (book, asked);
        std::vector<exchange::WavCue> points;
        for (const auto& row : times.hits)
            if (row.at && row.at->delivered >= 0)
                points.push_back (
                    { static_cast<std::uint32_t> (points.size() + 1), time::sampleAt (row.at->clock, 44100), row.hit.label });
        exchange::WavLook look;
        look.samplesPerSecond = 44100;
        look.cues = points;
        auto wav = exchange::wavHead (look, 1);
        exchange::appendSamples (wav, std::vector<float> (1, 0.0f));
        exchange::endWav (wav);
        for (const auto& [format, bytes] :
             std::vector<std::pair<std::string, std::string>>{ { "cmx3600", exchange::writeCmxList (times, head)->parts[0].bytes },
                                                               { "otio", exchange::writeOtio (times, head)->parts[0].bytes },
                                                               { "wav", wav } })
        {
            INFO (format << " at " << rate);
            const auto plan = planOf (bare(), format, bytes, { "ida", asked, 0 });
            for (const auto& bad : plan.bad)
                UNSCOPED_INFO (bad.line << ": " << bad.why);
            CHECK (plan.bad.empty());
            const auto now = tests::timed (plan.book, asked);
            // Two of the hits share a film frame, and a cut and a card may: places, not counts.
            for (const auto& row : times.hits)
            {
                if (! row.at || (format == "wav" && row.at->delivered < 0))
                    continue;
                INFO (row.hit.label);
                CHECK (std::any_of (now.hits.begin(), now.hits.end(),
                                    [&] (const auto& other) { return other.at && other.at->delivered == row.at->delivered; }));
            }
            CHECK (now.hits.size() >= 17);
        }
        // An OTIO marker of ours knows its hit.
        const auto same = planOf (book, "otio", exchange::writeOtio (times, head)->parts[0].bytes, { "ida", asked, 0 });
        CHECK (same.book == book);
    }
}

TEST_CASE ("cues are changed by number or id, new ones need both ends")
{
    const auto book = tests::comedy ("25");
    const auto plan = planOf (
        book, "cues-csv",
        "number,title,in_film_frame,out_film_frame,status\n1M1,The ladder,0,424,recorded\n2M1,New,500,600,\n2M2,Half,700,,\n");
    CHECK (plan.count (Kind::changed) == 1);
    CHECK (plan.count (Kind::added) == 1);
    REQUIRE (plan.bad.size() == 1);
    CHECK (plan.bad[0].line == 4);
    CHECK (spotting::cueNamed (plan.book, "1M1")->title == "The ladder");
    CHECK (spotting::cueNamed (plan.book, "1M1")->status == spotting::CueStatus::recorded);
    CHECK (spotting::cueNamed (plan.book, "1M1")->tempo == spotting::cueNamed (book, "1M1")->tempo);
    CHECK (spotting::cueNamed (plan.book, "2M1")->title == "New");
}

TEST_CASE ("wordings go to the card they stand over: chapters come in as hits")
{
    const auto book = tests::comedy ("25");
    const auto times = tests::timed (book);
    const auto own = planOf (book, "cards", exchange::writeWebVtt (times, head, exchange::TimedWhat::cards).parts[0].bytes);
    CHECK (own.book == book);
    CHECK (own.count (Kind::same) == 3);
    const auto plan =
        planOf (book, "cards",
                "1\n00:00:05,000 --> 00:00:08,000\nAnton has a ladder.\n\n2\n00:00:08,100 --> 00:00:10,000\nIt is not his.\n\n"
                "3\n00:01:20,000 --> 00:01:21,000\nnowhere\n");
    CHECK (plan.count (Kind::changed) == 1);
    REQUIRE (plan.bad.size() == 1);
    CHECK (plan.bad[0].line == 10);
    const auto& shots = plan.book.editions[0].shots;
    CHECK (shots[1].wording == "Anton has a ladder.\nIt is not his.");
    const auto chapters = planOf (bare(), "chapters", exchange::writeChapters (times, head)->parts[0].bytes);
    CHECK (chapters.count (Kind::added) == 3);
}

TEST_CASE ("in every format an import is one step to undo, and takes nothing away that it does not speak of")
{
    // A book without two of the things that the files tell, and with things of its own that they do not.
    const auto book = tests::comedy ("25");
    const auto times = tests::timed (book);
    auto mine = bare();
    spotting::HitPoint own;
    own.id = "ida-1";
    own.place = film::PicturePlace{ "p1", 1111, 0 };
    own.label = "Mine alone";
    own.note = "kept";
    mine.hits = std::vector{ own };
    auto people = mine.people.list();
    people.push_back ({ "ida", "Ida", "", 1, {} });
    mine.people = people;
    exchange::WavLook look;
    look.cues = { { 1, time::sampleAt (times.hits[5].at->clock, 48000), "Splash" } };
    auto wav = exchange::wavHead (look, 1);
    exchange::appendSamples (wav, std::vector<float> (1, 0.0f));
    exchange::endWav (wav);
    const std::map<std::string, std::string> files{
        { "csv", exchange::writeHitList (times, head).parts[0].bytes },
        { "cues-csv", "number,title,in_film_frame,out_film_frame,status\n1M1,The ladder,0,424,recorded\n" },
        { "cmx3600", exchange::writeCmxList (times, head)->parts[0].bytes },
        { "otio", exchange::writeOtio (times, head)->parts[0].bytes },
        { "cards", "1\n00:00:05,000 --> 00:00:08,000\nAnton has a ladder.\n" },
        { "chapters", exchange::writeChapters (times, head)->parts[0].bytes },
        { "wav", wav },
        { "reply",
          R"({"document": "shutterbeat reply", "schema": 1, "parcel": 1, "edition": "A", "final_rate": "25", "fill": "true",
              "running": "20", "person": {"id": "otto", "name": "Otto", "last_number": 0},
              "hits": [{"id": "ida-1", "sent": {"id": "ida-1", "reel": 0, "frame": 1389, "place": "film:1111", "kind": "cut",
                        "weight": "must", "label": "Mine alone", "note": "kept", "asked_by": "", "cue": "", "agreed": false,
                        "lead": "0"}, "weight": "may", "answer": "", "words": "softly"}], "cues": [], "added": []})" },
    };
    for (const auto& format : desk::importFormats())
    {
        INFO (format.name);
        REQUIRE (files.count (format.name) == 1);
        const auto plan = planOf (mine, format.name, files.at (format.name), { "ida", {}, 0 });
        CHECK (plan.count (Kind::added) + plan.count (Kind::changed) + plan.count (Kind::merged) > 0);
        CHECK_FALSE (plan.book == mine);
        // What the file does not speak of is as it was.
        const auto* kept = spotting::hitOf (plan.book, "ida-1");
        REQUIRE (kept != nullptr);
        CHECK (kept->place == own.place);
        CHECK (kept->label == own.label);
        CHECK (kept->note.rfind ("kept", 0) == 0);
        for (const auto& cue : mine.cues)
        {
            const auto* there = spotting::cueOf (plan.book, cue.id);
            REQUIRE (there != nullptr);
            CHECK (there->in == cue.in);
            CHECK (there->out == cue.out);
            CHECK (there->tempo == cue.tempo);
            CHECK (there->mood == cue.mood);
        }
        CHECK (plan.book.prints == mine.prints);
        CHECK (plan.book.editions[0].shots.size() == mine.editions[0].shots.size());
        spotting::History history (mine);
        history.did ("read a list", plan.book, {});
        CHECK (history.all().size() == 2);
        history.undo();
        CHECK_FALSE (history.canUndo());
        CHECK (history.book().hits == mine.hits);
        CHECK (history.book().cues == mine.cues);
        CHECK (history.book().editions == mine.editions);
    }
}

TEST_CASE ("what can't be imported is refused in words")
{
    const desk::OpenBook open{ tests::comedy(), "kite.shutterbeat", "" };
    CHECK (desk::planImport (open, "doc", "x", {}).error().text().find ("csv") != std::string::npos);
    for (const auto& format : desk::importFormats())
        CHECK_FALSE (desk::planImport (open, format.name, "\x01\x02nothing", {}).ok());
    CHECK_FALSE (desk::planImportFile (open, "csv", "/nowhere/hits.csv", {}).ok());
}
