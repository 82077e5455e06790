#include "cli/Command.h"
#include "cli/Table.h"
#include "spotting/ShotEdit.h"
#include "spotting/SpeedTable.h"
#include "time/Clock.h"

#include <nlohmann/json.hpp>

#include <cmath>
#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct SpeedWords
{
    std::string book, speed, rate, fill, edition;
    std::vector<std::string> scene;
    bool accept = false, json = false;
};

Result<const film::Edition*> editionFor (const spotting::Book& book, const SpeedWords& words)
{
    const auto letter = words.edition.empty() ? book.edition : words.edition;
    const auto* edition = spotting::editionOf (book, letter);
    if (edition == nullptr)
        return usageError ("edition " + letter, "the book does not have it");
    return edition;
}

Json rowJson (const spotting::SpeedRow& row)
{
    return { { "film_frames_a_second", time::fractionText (row.speed) },
             { "feet_a_minute", time::decimalText (row.feetAMinute, 2) },
             { "minutes_a_1000_feet", time::decimalText (row.minutes, 2) },
             { "length", time::clockText (row.seconds) },
             { "seconds", time::fractionText (row.seconds) },
             { "archive_rate", row.archive },
             { "chosen", row.chosen } };
}

/// A bar as long as the speed is high, so that the run of a film's speeds is seen at a glance.
std::string bar (const time::Rational& speed)
{
    std::string text;
    for (std::int64_t i = 0; i < time::roundOf (speed); ++i)
        text += "\xe2\x96\xac";
    return text;
}

int listSpeeds (const SpeedWords& words, const Console& console)
{
    const auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    const auto edition = editionFor (open->book, words);
    if (! edition)
        return console.fail (edition.error());
    const auto table = spotting::speedTable (**edition);
    const auto runs = spotting::speedRuns (**edition);
    if (words.json)
    {
        Json speeds = Json::array(), along = Json::array();
        for (const auto& row : table)
            speeds.push_back (rowJson (row));
        for (const auto& run : runs)
            along.push_back ({ { "first_shot", (*edition)->shots[run.first].name },
                               { "last_shot", (*edition)->shots[run.end - 1].name },
                               { "film_frames_a_second", time::fractionText (run.speed) },
                               { "film_frames", run.frames },
                               { "length", time::clockText (run.seconds) } });
        console.out << Json{
            { "edition", (*edition)->letter }, { "speeds", std::move (speeds) }, { "along", std::move (along) }
        }.dump (2) << "\n";
        return done;
    }
    std::vector<std::vector<std::string>> rows;
    for (const auto& row : table)
        rows.push_back ({ time::speedText (row.speed), time::decimalText (row.feetAMinute, 2), time::decimalText (row.minutes, 2),
                          time::clockText (row.seconds), row.archive ? "archive rate" : "", row.chosen ? "the edition's" : "" });
    printTable ({ { "film frames a second" }, { "ft/min", true }, { "min/1000 ft", true }, { "whole film", true }, { "" }, { "" } },
                rows, console.out);
    console.out << "\nAlong edition " << (*edition)->letter << ":\n";
    rows.clear();
    for (const auto& run : runs)
    {
        const auto& first = (*edition)->shots[run.first].name;
        const auto& last = (*edition)->shots[run.end - 1].name;
        rows.push_back ({ first == last ? first : first + " to " + last, std::to_string (run.frames), time::clockText (run.seconds),
                          time::speedText (run.speed), bar (run.speed) });
    }
    printTable ({ { "shots" }, { "film frames", true }, { "length", true }, { "speed" }, { "" } }, rows, console.out);
    return done;
}

/// "+70.67" or "-1.73": two decimals, no locale.
std::string centsText (double cents)
{
    const auto hundredths = static_cast<std::int64_t> (std::llround (cents * 100));
    return (hundredths > 0 ? "+" : "") + time::decimalText (time::Rational (hundredths) / time::Rational (100), 2);
}

Json effectJson (const spotting::SpeedEffect& effect, bool accepted)
{
    Json hits = Json::array();
    for (const auto& hit : effect.hits)
        hits.push_back ({ { "id", hit.id },
                          { "label", hit.label },
                          { "clock_before", time::decimalText (hit.before, 2) },
                          { "clock_after", time::decimalText (hit.after, 2) },
                          { "timecode_before", hit.timecodeBefore.empty() ? Json (nullptr) : Json (hit.timecodeBefore) },
                          { "timecode_after", hit.timecodeAfter.empty() ? Json (nullptr) : Json (hit.timecodeAfter) } });
    return { { "length_before", time::clockText (effect.before) },
             { "length_after", time::clockText (effect.after) },
             { "factor", time::fractionText (effect.factor) },
             { "sound_speed", time::fractionText (effect.soundSpeed) },
             { "pitch_cents", centsText (effect.cents) },
             { "hits_moved", effect.moved },
             { "hits", std::move (hits) },
             { "accepted", accepted } };
}

void printEffect (const spotting::SpeedEffect& effect, std::ostream& out)
{
    out << "length " << time::clockText (effect.before) << " becomes " << time::clockText (effect.after) << "\n";
    if (effect.before == effect.after)
        out << "sound made for it keeps its length and pitch\n";
    else
        out << "sound made for the old length has to run at " << time::decimalText (effect.soundSpeed * time::Rational (100), 3)
            << " % to fit: " << centsText (effect.cents) << " cents unless its pitch is kept\n";
    out << effect.moved << " of " << effect.hits.size() << " hits get other times\n";
    std::vector<std::vector<std::string>> rows;
    for (const auto& hit : effect.hits)
        rows.push_back ({ hit.id, time::decimalText (hit.before, 2), time::decimalText (hit.after, 2), hit.timecodeBefore,
                          hit.timecodeAfter, oneLine (hit.label) });
    if (! rows.empty())
        printTable ({ { "hit" }, { "clock", true }, { "becomes", true }, { "timecode" }, { "becomes" }, { "label" } }, rows, out);
}

/// Shows what a change does, and makes it when it was accepted. Status 1: it is still open.
int propose (const SpeedWords& words, const Console& console,
             const std::function<Result<spotting::Book> (const spotting::Book&, std::vector<std::string>&)>& change)
{
    auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    std::vector<std::string> notes;
    auto changed = change (open->book, notes);
    if (! changed)
        return console.fail (changed.error());
    const auto effect = spotting::speedEffect (open->book, *changed);
    if (! effect)
        return console.fail (effect.error());
    if (words.accept)
    {
        open->book = std::move (*changed);
        if (const auto saved = desk::saveBook (*open); ! saved)
            return console.fail (saved.error());
    }
    else
        notes.push_back ("nothing was changed; say it again with --accept to make it so");
    console.notes (notes);
    if (words.json)
        console.out << effectJson (*effect, words.accept).dump (2) << "\n";
    else
        printEffect (*effect, console.out);
    return words.accept ? done : found;
}

Result<spotting::Book> withSpeed (const spotting::Book& book, const SpeedWords& words, std::vector<std::string>& notes)
{
    const auto edition = editionFor (book, words);
    if (! edition)
        return edition.error();
    const auto& letter = (*edition)->letter;
    std::optional<time::Rational> speed;
    if (words.speed != "edition")
    {
        const auto typed = time::parseSpeed (words.speed);
        if (! typed)
            return typed.error();
        if (! typed->note.empty())
            notes.push_back (typed->note);
        speed = typed->value;
    }
    if (words.scene.empty())
        return speed ? spotting::setWholeSpeed (book, letter, *speed)
                     : Result<spotting::Book> (usageError ("speed", "\"edition\" is for shots; for the whole film name a speed"));
    std::vector<std::string> ids;
    for (const auto& name : words.scene)
    {
        const auto id = spotting::shotNamed (**edition, name);
        if (! id)
            return id.error();
        ids.push_back (*id);
    }
    return spotting::setSceneSpeed (book, letter, ids.front(), ids.back(), speed);
}

Result<spotting::Book> withDelivery (const spotting::Book& book, const SpeedWords& words, std::vector<std::string>& notes)
{
    if (words.rate.empty() && words.fill.empty())
        return usageError ("speeds final", "name a rate, or another fill with --fill");
    film::Delivery delivery = book.delivery;
    if (! words.rate.empty())
    {
        const auto rate = time::parseRate (words.rate);
        if (! rate)
            return rate.error();
        if (! rate->note.empty())
            notes.push_back (rate->note);
        // From 24 to 25 both fills are common, and only the user knows which is meant.
        const bool asks = book.delivery.rate.perSecond == time::Rational (24) && rate->value.perSecond == time::Rational (25);
        if (asks && words.fill.empty())
            return usageError ("--fill",
                               "from 24 to 25 say how: true (frames repeat, the film lasts as long) or from:24 (frame for "
                               "frame, 4 % faster)");
        delivery.rate = rate->value;
        delivery.from = film::usualFill (delivery.rate);
        if (! time::hasTimecode (delivery.rate))
            notes.push_back ("a final rate of " + time::rateName (delivery.rate)
                             + " has no timecode: lists show frames and clock, and exports that need timecode are refused");
    }
    if (! words.fill.empty())
    {
        const auto fill = film::parseFill (words.fill);
        if (! fill)
            return fill.error();
        delivery.from = *fill;
    }
    return spotting::setDelivery (book, delivery);
}
} // namespace

void addSpeeds (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<SpeedWords>();
    auto* command = app.add_subcommand ("speeds", "Running speeds of the film, and what another speed or final rate would do");
    command->footer ("Example: shutterbeat speeds film.shutterbeat set 80ft/min --scene 12 20\n"
                     "A change is shown first: the film's length, the pitch of sound made before, every hit. --accept makes it.");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->require_subcommand (0, 1);
    command->add_option ("--edition", words->edition, "Letter of the edition; else the one worked on");
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    const auto listing = [words, &chosen] { chosen = [words] (const Console& console) { return listSpeeds (*words, console); }; };
    command->callback (
        [command, listing]
        {
            if (command->get_subcommands().empty())
                listing();
        });
    auto* list = command->add_subcommand ("list", "Usual speeds with the film's length at each, and the speeds along the film");
    list->footer ("Example: shutterbeat speeds film.shutterbeat list --json");
    list->add_flag ("--json", words->json, "One JSON document on standard output");
    list->add_option ("--edition", words->edition, "Letter of the edition; else the one worked on");
    list->callback (listing);

    const auto change =
        [&] (CLI::App* sub, Result<spotting::Book> (*make) (const spotting::Book&, const SpeedWords&, std::vector<std::string>&))
    {
        sub->add_flag ("--accept", words->accept, "Makes the change; else it is only shown, and the exit status is 1");
        sub->add_flag ("--json", words->json, "One JSON document on standard output");
        sub->callback (
            [words, &chosen, make]
            {
                chosen = [words, make] (const Console& console)
                {
                    return propose (*words, console,
                                    [&] (const spotting::Book& book, std::vector<std::string>& notes)
                                    { return make (book, *words, notes); });
                };
            });
    };
    auto* set = command->add_subcommand ("set", "Another running speed for the whole film, a scene or a shot");
    set->footer ("Example: shutterbeat speeds film.shutterbeat set 200/11 --scene 12 20 --accept");
    set->add_option ("SPEED", words->speed, "16, 18, 200/11, 80ft/min, 13min/1000ft; or edition: shots follow the edition again")
        ->required();
    set->add_option ("--scene", words->scene, "First and last shot, by name or id; one name for one shot; else the whole film")
        ->expected (1, 2);
    set->add_option ("--edition", words->edition, "Letter of the edition; else the one worked on");
    change (set, withSpeed);
    auto* delivered = command->add_subcommand ("final", "Another final rate or fill");
    delivered->footer ("Example: shutterbeat speeds film.shutterbeat final 25 --fill from:24 --accept");
    delivered->add_option ("RATE", words->rate, "23.976, 24, 25, 29.97, 29.97df, 30, 48, 50, 59.94, 59.94df, 60 or n/d (16, 200/11)");
    delivered->add_option ("--fill", words->fill, "true (frames repeat or drop, duration kept) or from:RATE (frame for frame)");
    change (delivered, withDelivery);
}
} // namespace shutterbeat::cli
