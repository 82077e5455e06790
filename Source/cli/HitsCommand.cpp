#include "cli/Command.h"
#include "cli/TimesText.h"
#include "spotting/Edit.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
/// The fields of a hit as typed; what was not typed stays as it is.
struct HitWords
{
    std::string book, person = "me";
    std::vector<std::string> ids;
    std::optional<std::string> place, label, kind, weight, lead, note, askedBy, cue;
    std::optional<int> early, late;
    bool agreed = false, open = false, proposed = false, json = false;
    AskedWords asked;

    void addFieldsTo (CLI::App& command)
    {
        command.add_option ("--at", place,
                            "Place: film:1000, file:1389, tc:01:00:55:14, feet:62+08, edge:SHOT.head+0, 12.5s, -4.0s");
        command.add_option ("--label", label, "What the music answers");
        command.add_option ("--kind", kind, "cut, card, gag, action, entrance, effect, mood, music seen, stop");
        command.add_option ("--weight", weight, "must, should, may");
        command.add_option ("--lead", lead, "Seconds from the picture to where the music strikes, exact: 1/10, -0.05");
        command.add_option ("--early", early, "Limit early in milliseconds (default 40)");
        command.add_option ("--late", late, "Limit late in milliseconds (default 80)");
        command.add_option ("--note", note, "Note");
        command.add_option ("--asked-by", askedBy, "Who asked for it");
        command.add_option ("--cue", cue, "Id or number of its cue; \"\" for none");
        auto* yes = command.add_flag ("--agreed", agreed, "It is agreed");
        command.add_flag ("--open", open, "It is still open")->excludes (yes);
    }
};

/// Lays the typed fields over a hit. `place` is looked up in the timings.
Result<spotting::HitPoint> withFields (const desk::OpenBook& book, const film::Timings& timings, spotting::HitPoint hit,
                                       const HitWords& words)
{
    if (words.place)
    {
        const auto typed = film::parsePlace (*words.place);
        if (! typed)
            return typed.error();
        const auto position = timings.find (*typed);
        if (! position)
            return position.error();
        const auto place = timings.placeFor (*typed);
        if (! place)
            return place.error();
        hit.place = *place;
        hit.typed.clear();
        // A label on a repeat names a frame that only shows this film frame again: keep what was typed.
        if (typed->kind == film::TypedPlace::Kind::timecode && timings.times (*position).timecode != typed->text)
            hit.typed = typed->text;
    }
    if (words.kind)
    {
        const auto kind = spotting::parseHitKind (*words.kind);
        if (! kind)
            return kind.error();
        hit.kind = *kind;
    }
    if (words.weight)
    {
        const auto weight = spotting::parseWeight (*words.weight);
        if (! weight)
            return weight.error();
        hit.weight = *weight;
    }
    if (words.lead)
    {
        const auto lead = time::parseRational (*words.lead);
        if (! lead)
            return lead.error();
        hit.lead = *lead;
    }
    if (words.cue)
    {
        hit.cue.clear();
        if (! words.cue->empty())
        {
            const auto cue = spotting::cueNamed (book.book, *words.cue);
            if (! cue)
                return cue.error();
            hit.cue = cue->id;
        }
    }
    hit.label = words.label.value_or (hit.label);
    hit.earlyMs = words.early.value_or (hit.earlyMs);
    hit.lateMs = words.late.value_or (hit.lateMs);
    hit.note = words.note.value_or (hit.note);
    hit.askedBy = words.askedBy.value_or (hit.askedBy);
    hit.agreed = words.agreed || (hit.agreed && ! words.open);
    hit.fromScan = false;
    return hit;
}

int listHits (const HitWords& words, const Console& console)
{
    const auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    const auto& times = timed->times;
    if (words.json)
        console.out << bookTimesJson (times)["hits"].dump (2) << "\n";
    else
        printHits (times, console.out);
    return done;
}

int addHit (const HitWords& words, const Console& console)
{
    std::vector<std::string> added;
    if (! words.proposed && ! words.place)
        return console.fail (
            usageError ("hits add", "say where with --at PLACE, or take the cuts and cards of the scan with --proposed"));
    const int status = editBook (console, words.book,
                                 [&] (const desk::OpenBook& open) -> Result<spotting::Book>
                                 {
                                     const auto timings = spotting::timingsOf (open.book);
                                     if (! timings)
                                         return timings.error();
                                     std::vector<spotting::HitPoint> hits;
                                     if (words.proposed)
                                         hits = spotting::proposedHits (open.book, timings->edition());
                                     if (words.place)
                                     {
                                         auto hit = withFields (open, *timings, {}, words);
                                         if (! hit)
                                             return hit.error();
                                         hits.push_back (std::move (*hit));
                                     }
                                     auto edited = spotting::addHits (open.book, words.person, std::move (hits));
                                     if (! edited)
                                         return edited.error();
                                     added = edited->ids;
                                     return std::move (edited->book);
                                 });
    if (status != done)
        return status;
    if (words.json)
        console.out << Json{ { "added", added } }.dump (2) << "\n";
    else
        for (const auto& id : added)
            console.out << id << "\n";
    return status;
}

int setHit (const HitWords& words, const Console& console)
{
    return editBook (console, words.book,
                     [&] (const desk::OpenBook& open) -> Result<spotting::Book>
                     {
                         const auto timings = spotting::timingsOf (open.book);
                         if (! timings)
                             return timings.error();
                         std::vector<spotting::HitPoint> hits;
                         for (const auto& id : words.ids)
                         {
                             const auto* hit = spotting::hitOf (open.book, id);
                             if (hit == nullptr)
                                 return usageError ("hit " + id,
                                                    "the book does not have it; list them with: shutterbeat hits " + words.book);
                             auto changed = withFields (open, *timings, *hit, words);
                             if (! changed)
                                 return changed.error();
                             hits.push_back (std::move (*changed));
                         }
                         return spotting::setHits (open.book, hits);
                     });
}
} // namespace

void addHits (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<HitWords>();
    auto* command = app.add_subcommand ("hits", "Lists, adds, changes and removes hit points");
    command->footer (
        "Example: shutterbeat hits film.shutterbeat add --at tc:01:00:55:14 --kind gag --weight must --label \"The cake falls\"");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->require_subcommand (0, 1);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback (
        [words, command, &chosen]
        {
            if (command->get_subcommands().empty())
                chosen = [words] (const Console& console) { return listHits (*words, console); };
        });

    auto* list = command->add_subcommand ("list", "Every hit with all its times");
    list->footer ("Example: shutterbeat hits film.shutterbeat list --final 29.97df");
    words->asked.addTo (*list);
    list->add_flag ("--json", words->json, "One JSON document on standard output");
    list->callback ([words, &chosen] { chosen = [words] (const Console& console) { return listHits (*words, console); }; });

    auto* add = command->add_subcommand ("add", "Adds a hit at a place, or all cuts and cards of the scan");
    add->footer ("Example: shutterbeat hits film.shutterbeat add --at edge:12.head+0 --kind card --weight should --person anna");
    words->addFieldsTo (*add);
    add->add_flag ("--proposed", words->proposed, "A hit on every cut and card that has none yet");
    add->add_option ("--person", words->person, "Whose hit it is: a short word")->capture_default_str();
    add->add_flag ("--json", words->json, "One JSON document on standard output");
    add->callback ([words, &chosen] { chosen = [words] (const Console& console) { return addHit (*words, console); }; });

    auto* set = command->add_subcommand ("set", "Changes fields of hits");
    set->footer ("Example: shutterbeat hits film.shutterbeat set anna-3 --weight must --agreed");
    set->add_option ("ID", words->ids, "Ids of hits")->required();
    words->addFieldsTo (*set);
    set->callback ([words, &chosen] { chosen = [words] (const Console& console) { return setHit (*words, console); }; });

    auto* remove = command->add_subcommand ("remove", "Removes hits");
    remove->footer ("Example: shutterbeat hits film.shutterbeat remove anna-3 anna-4");
    remove->add_option ("ID", words->ids, "Ids of hits")->required();
    remove->callback (
        [words, &chosen]
        {
            chosen = [words] (const Console& console)
            {
                return editBook (console, words->book,
                                 [&] (const desk::OpenBook& open) { return spotting::removeHits (open.book, words->ids); });
            };
        });
}
} // namespace shutterbeat::cli
