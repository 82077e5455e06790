#include "cli/Command.h"
#include "cli/Table.h"
#include "cli/TimesText.h"
#include "desk/CueFit.h"
#include "desk/CueTempo.h"
#include "music/Beats.h"
#include "spotting/Edit.h"
#include "time/Clock.h"
#include "time/Text.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using time::Rational;

struct TempoCommandWords
{
    std::string book, cue, file, barOne, offset, keep;
    desk::TempoWords tempo;
    std::optional<std::int64_t> fileBar;
    bool bars = false, json = false, set = false;
    AskedWords asked;
};

struct Chosen
{
    TimedBook timed;
    spotting::Cue cue;
    const spotting::CueTimes* row = nullptr;
};

Result<Chosen> choose (const Console& console, const TempoCommandWords& words, const AskedWords& asked)
{
    auto timed = timedBook (console, words.book, asked);
    if (! timed)
        return timed.error();
    const auto cue = spotting::cueNamed (timed->open.book, words.cue);
    if (! cue)
        return cue.error();
    return Chosen{ std::move (*timed), *cue, nullptr };
}

const spotting::CueTimes& rowOf (const Chosen& chosen)
{
    for (const auto& row : chosen.timed.times.cues)
        if (row.cue.id == chosen.cue.id)
            return row;
    return chosen.timed.times.cues.front();
}

/// The clock of a bar start, or "-" where the cue's place is lost.
std::string barClock (const spotting::CueTimes& row, const Rational& position)
{
    return row.barOne ? time::clockText (*row.barOne + row.cue.tempo->timeOf (position), 3) : "-";
}

int show (const TempoCommandWords& words, const Console& console)
{
    const auto chosen = choose (console, words, words.asked);
    if (! chosen)
        return console.fail (chosen.error());
    const auto& row = rowOf (*chosen);
    if (! row.cue.tempo)
    {
        if (words.json)
            console.out << Json{ { "cue", row.cue.number }, { "tempo_map", nullptr } }.dump (2) << "\n";
        else
            console.out << "Cue " << row.cue.number << " has no tempo yet.\n";
        return done;
    }
    const auto& map = *row.cue.tempo;
    const auto end =
        row.barOne && row.out && row.out->reel == row.in->reel ? row.out->clock - *row.barOne : map.timeOf (map.barStart (17));
    std::vector<std::vector<std::string>> bars;
    Json barsJson = Json::array(), hits = Json::array();
    for (std::int64_t bar = map.plan().pickup.sign() > 0 ? 0 : 1; map.timeOf (map.barStart (bar)) < end && bars.size() < 100'000;
         ++bar)
    {
        const auto at = map.barStart (bar);
        bars.push_back ({ std::to_string (bar), music::meterText (map.meterOf (bar)), time::decimalText (map.tempoAt (at), 2),
                          time::decimalText (map.timeOf (at), 3), barClock (row, at) });
        barsJson.push_back ({ { "bar", bar },
                              { "meter", music::meterText (map.meterOf (bar)) },
                              { "quarters_per_minute", time::decimalText (map.tempoAt (at), 4) },
                              { "seconds", time::fractionText (map.timeOf (at)) } });
    }
    std::vector<std::vector<std::string>> hitRows;
    for (const auto index : row.hits)
        if (const auto& hit = chosen->timed.times.hits[index]; hit.at && row.barOne && hit.at->reel == row.in->reel)
        {
            const auto at = map.barBeatOf (map.beatOf (hit.at->clock + hit.hit.lead - *row.barOne));
            const auto place =
                "bar " + std::to_string (at.bar) + " beat " + time::decimalText (Rational (at.beat) + at.fraction, 2);
            hitRows.push_back ({ place, time::clockText (hit.at->clock + hit.hit.lead),
                                 std::string (spotting::weightName (hit.hit.weight)),
                                 oneLine (hit.hit.label.empty() ? hit.hit.id : hit.hit.label) });
            hits.push_back (
                { { "hit", hit.hit.id }, { "bar", at.bar }, { "beat", time::decimalText (Rational (at.beat) + at.fraction, 4) } });
        }
    if (words.json)
    {
        Json json{ { "cue", row.cue.number }, { "tempo_map", desk::wordsOfTempo (map) } };
        json["bar_one_clock"] = row.barOne ? Json (time::fractionText (*row.barOne)) : Json (nullptr);
        json["bars"] = std::move (barsJson);
        json["hits"] = std::move (hits);
        console.out << json.dump (2) << "\n";
        return done;
    }
    console.out << "Cue " << row.cue.number << ", bar 1 at "
                << (row.barOne ? time::clockText (*row.barOne, 3) : "an unknown place: " + row.barOneLost) << "\n";
    for (const auto& line : desk::wordsOfTempo (map))
        console.out << "  " << line << "\n";
    if (words.bars)
    {
        console.out << "\n";
        printTable (
            { { "bar", true }, { "meter", false }, { "quarters a minute", true }, { "from bar 1, s", true }, { "clock", true } },
            bars, console.out);
    }
    if (! hitRows.empty())
    {
        console.out << "\n";
        printTable ({ { "music at", false }, { "clock", true }, { "weight", false }, { "hit", false } }, hitRows, console.out);
    }
    return done;
}

/// Bar 1's pin from words: a hit of the book, in, or a place.
Result<spotting::BarOne> pinFrom (const spotting::Book& book, const film::Timings& timings, const TempoCommandWords& words,
                                  spotting::BarOne pin)
{
    if (! words.barOne.empty())
    {
        pin = {};
        if (spotting::hitOf (book, words.barOne) != nullptr)
            pin.hit = words.barOne;
        else if (words.barOne != "in")
        {
            const auto typed = film::parsePlace (words.barOne);
            if (! typed)
                return usageError ("bar 1 at \"" + words.barOne + "\"",
                                   "is no hit of the book and no place; write in, a hit's id, or a place as film:1000");
            const auto place = timings.placeFor (*typed);
            if (! place)
                return place.error();
            pin.place = *place;
        }
    }
    if (! words.offset.empty())
    {
        auto text = words.offset;
        if (time::endsWith (text, "s"))
            text.pop_back();
        const auto seconds = time::parseRational (text);
        if (! seconds || ! seconds->valid())
            return usageError ("offset \"" + words.offset + "\"", "is a number of seconds, such as -1/2 or 0.25");
        pin.seconds = *seconds;
    }
    return pin;
}

int set (const TempoCommandWords& words, const Console& console)
{
    return editBook (console, words.book,
                     [&] (const desk::OpenBook& open) -> Result<spotting::Book>
                     {
                         const auto cue = spotting::cueNamed (open.book, words.cue);
                         const auto timings = spotting::timingsOf (open.book);
                         if (! cue)
                             return cue.error();
                         if (! timings)
                             return timings.error();
                         auto changed = *cue;
                         const auto map = desk::tempoFromWords (words.tempo, cue->tempo, timings->delivery().rate.perSecond);
                         if (! map)
                             return map.error();
                         changed.tempo = *map;
                         const auto pin = pinFrom (open.book, *timings, words, cue->barOne);
                         if (! pin)
                             return pin.error();
                         changed.barOne = *pin;
                         return spotting::setCue (open.book, changed, *timings);
                     });
}

int clear (const TempoCommandWords& words, const Console& console)
{
    return editBook (console, words.book,
                     [&] (const desk::OpenBook& open) -> Result<spotting::Book>
                     {
                         const auto cue = spotting::cueNamed (open.book, words.cue);
                         const auto timings = spotting::timingsOf (open.book);
                         if (! cue)
                             return cue.error();
                         if (! timings)
                             return timings.error();
                         auto changed = *cue;
                         changed.tempo.reset();
                         changed.barOne = {};
                         return spotting::setCue (open.book, changed, *timings);
                     });
}

int readFile (const TempoCommandWords& words, const Console& console)
{
    const auto chosen = choose (console, words, {});
    if (! chosen)
        return console.fail (chosen.error());
    const auto read = desk::readTempoFile (chosen->timed.times, chosen->cue.id, words.file, words.fileBar);
    if (! read)
        return console.fail (read.error());
    console.notes (read->notes);
    if (words.json)
        console.out << Json{
            { "cue", chosen->cue.number },
            { "tempo_map", desk::wordsOfTempo (read->map) },
            { "bar_one_by", read->barOneBy },
            { "bar_one_from_in", read->fromIn ? Json (time::fractionText (*read->fromIn)) : Json (nullptr) },
            { "changes", read->changes }
        }.dump (2) << "\n";
    else
    {
        console.out << words.file << ": " << read->map.plan().tempos.size() << " tempos, " << read->map.plan().meters.size()
                    << " meters; " << read->barOneBy << "\n";
        for (const auto& change : read->changes)
            console.out << "  " << change << "\n";
        if (read->changes.empty())
            console.out << "  nothing differs from the book\n";
    }
    if (! words.set)
        return read->changes.empty() ? done : found;
    // Bar 1 stays where the book has it, unless only the file can tell.
    if (! chosen->cue.tempo && read->fromIn)
        return editBook (console, words.book,
                         [&] (const desk::OpenBook& open)
                         { return desk::withTempo (open.book, chosen->cue.id, read->map, *read->fromIn); });
    return editBook (console, words.book,
                     [&] (const desk::OpenBook& open) { return desk::withPinnedTempo (open.book, chosen->cue.id, read->map); });
}

int effect (const TempoCommandWords& words, const Console& console)
{
    const auto before = choose (console, words, {});
    if (! before)
        return console.fail (before.error());
    const auto after = choose (console, words, words.asked);
    if (! after)
        return console.fail (after.error());
    const auto both = desk::speedEffect (before->timed.times, after->timed.times, before->cue.id);
    if (! both)
        return console.fail (both.error());
    const auto& map = *before->cue.tempo;
    const auto tempo = [] (const music::TempoMap& m) { return time::decimalText (m.opening().beatsPerMinute, 2); };
    if (words.json)
    {
        Json hits = Json::array();
        for (const auto& hit : both->hits)
            hits.push_back ({ { "hit", after->timed.times.hits[hit.row].hit.id },
                              { "written_at", music::barBeatText (hit.writtenAt) },
                              { "late_when_tempo_kept", time::decimalText (hit.keptTempo, 6) },
                              { "late_when_bars_kept", time::decimalText (hit.keptBars, 6) } });
        console.out << Json{
            { "cue", before->cue.number },
            { "factor", time::fractionText (both->factor) },
            { "length_before", time::fractionText (both->lengthBefore) },
            { "length_after", time::fractionText (both->lengthAfter) },
            { "keep_tempo", tempo (map) },
            { "keep_bars", tempo (both->bars) },
            { "hits", std::move (hits) }
        }.dump (2) << "\n";
    }
    else
    {
        console.out << "Cue " << before->cue.number << ": " << time::decimalText (both->lengthBefore, 2)
                    << " s as the book has it, " << time::decimalText (both->lengthAfter, 2) << " s as asked\n"
                    << "  keep the tempo: " << tempo (map) << ", the beats move against the picture\n"
                    << "  keep the bars on the picture: " << tempo (both->bars) << " (tempo times "
                    << time::decimalText (both->factor, 5) << ")\n";
        std::vector<std::vector<std::string>> rows;
        for (const auto& hit : both->hits)
            rows.push_back ({ music::barBeatText (hit.writtenAt), time::decimalText (hit.keptTempo, 3),
                              time::decimalText (hit.keptBars, 3), oneLine (after->timed.times.hits[hit.row].hit.label) });
        if (! rows.empty())
        {
            console.out << "\nSeconds that the beat written at each hit comes late (below zero early):\n";
            printTable ({ { "written at", false }, { "tempo kept", true }, { "bars kept", true }, { "hit", false } }, rows,
                        console.out);
        }
    }
    if (words.keep.empty() || words.keep == "tempo")
        return done;
    if (words.keep != "bars")
        return console.fail (usageError ("--keep " + words.keep, "is bars or tempo"));
    return editBook (console, words.book,
                     [&] (const desk::OpenBook& open) { return desk::withPinnedTempo (open.book, before->cue.id, both->bars); });
}
} // namespace

void addTempo (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<TempoCommandWords>();
    auto* command =
        app.add_subcommand ("tempo", "Shows or sets the tempo map of a cue: tempos, meters, holds, where bar 1 is pinned");
    command->footer ("Example: shutterbeat tempo film.shutterbeat 1M1 set --tempo 1:96 --tempo 9:96~ --tempo 13:120 --meter 9:3/4\n"
                     "Each act below has its own --help with an example.");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("CUE", words->cue, "Id or number of a cue")->required();
    command->require_subcommand (0, 1);
    command->add_flag ("--bars", words->bars, "List every bar");
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    words->asked.addTo (*command);
    const auto act = [&chosen, words] (int (*run) (const TempoCommandWords&, const Console&))
    { chosen = [words, run] (const Console& console) { return run (*words, console); }; };
    command->callback (
        [command, act]
        {
            if (command->get_subcommands().empty())
                act (show);
        });

    auto* setting = command->add_subcommand ("set", "Sets what is given and keeps the rest");
    setting->footer (
        "Example: shutterbeat tempo film.shutterbeat 1M1 set --tempo 13-0 --meter 6/8 --bar-one anna-3 --offset -1/24\n"
        "All tempos are given at once; --tempo 96 is the whole cue's.");
    setting->add_option ("--tempo", words->tempo.tempos,
                         "96, 9:120, 9.3:97.3, 13-0 (click), 80/dotted quarter; ~ goes over to the next in time, ~~ in beats");
    setting->add_option ("--meter", words->tempo.meters, "6/8, or 9:7/8(2+2+3) from bar 9 on");
    setting->add_option ("--hold", words->tempo.holds, "12.3:4.5s, 12.3:half:4.5s: the beat or note there lasts so long");
    setting->add_option ("--free", words->tempo.free, "20:24:8.5s: free from bar 20 up to bar 24, lasting so long");
    setting->add_option ("--key", words->tempo.keys, "1:-3 minor: sharps, below zero flats");
    setting->add_option ("--pickup", words->tempo.pickup, "Quarter notes before bar 1");
    setting->add_option ("--bar-one", words->barOne, "Where bar 1 beat 1 is: in, a hit's id, or a place");
    setting->add_option ("--offset", words->offset, "Seconds from there, above zero later");
    setting->callback ([act] { act (set); });

    auto* clearing = command->add_subcommand ("clear", "Takes the tempo map away");
    clearing->footer ("Example: shutterbeat tempo film.shutterbeat 1M1 clear");
    clearing->callback ([act] { act (clear); });

    auto* reading = command->add_subcommand ("read", "Reads a composer's MIDI file or MusicXML score and says what differs");
    reading->footer (
        "Example: shutterbeat tempo film.shutterbeat 1M1 read back.mid --set\nExit status 1: something differs and was not set.");
    reading->add_option ("FILE", words->file, "Standard MIDI File, or MusicXML score")->required();
    reading->add_option ("--bar", words->fileBar, "Which bar of the file is bar 1, when no marker and no SMPTE offset tells");
    reading->add_flag ("--set", words->set, "Make it the cue's tempo map");
    reading->add_flag ("--json", words->json, "One JSON document on standard output");
    reading->callback ([act] { act (readFile); });

    auto* changing = command->add_subcommand (
        "effect", "What another speed, rate, fill or edition does: tempo kept, or bars kept on the picture");
    changing->footer ("Example: shutterbeat tempo film.shutterbeat 1M1 effect --running 20 --keep bars");
    words->asked.addTo (*changing);
    changing->add_option ("--keep", words->keep, "bars: save the tempo that keeps the bars on the picture; tempo: leave it");
    changing->add_flag ("--json", words->json, "One JSON document on standard output");
    changing->callback ([act] { act (effect); });
}
} // namespace shutterbeat::cli
