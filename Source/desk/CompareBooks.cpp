#include "desk/CompareBooks.h"

#include "spotting/CardRegister.h"
#include "spotting/Carry.h"
#include "spotting/ParcelRows.h"
#include "time/Clock.h"

#include <algorithm>
#include <map>
#include <set>

namespace shutterbeat::desk
{
namespace
{
using time::Rational;

Result<spotting::BookTimes> timesIn (const spotting::Book& book, const std::string& edition)
{
    spotting::Asked asked;
    asked.edition = edition;
    return spotting::timesOf (book, asked);
}

std::string longer (const Rational& by)
{
    return time::secondsText (by.sign() < 0 ? -by : by) + " s " + (by.sign() > 0 ? "longer" : "shorter");
}

std::vector<std::string> cardsOf (const std::vector<spotting::CardRow>& before, const std::vector<spotting::CardRow>& now)
{
    std::map<std::string, const spotting::CardRow*> was;
    for (const auto& row : before)
        was.emplace (row.card.id, &row);
    std::vector<std::string> said;
    for (const auto& row : now)
    {
        const auto name = "Card " + row.card.name;
        const auto known = was.find (row.card.id);
        if (known == was.end())
        {
            said.push_back (name + " is new" + (row.card.wording.empty() ? "" : ": \"" + row.card.wording + "\"") + ".");
            continue;
        }
        const auto& old = *known->second;
        std::string text;
        if (old.card.wording != row.card.wording)
            text = " says \"" + row.card.wording + "\" (was \"" + old.card.wording + "\")";
        if (old.seconds != row.seconds)
            text += std::string (text.empty() ? "" : ",") + " stands " + longer (row.seconds - old.seconds) + " ("
                    + time::secondsText (old.seconds) + " s to " + time::secondsText (row.seconds) + " s)";
        if (! text.empty())
            said.push_back (name + text + ".");
        was.erase (known);
    }
    for (const auto& row : before)
        if (was.count (row.card.id) > 0)
            said.push_back ("Card " + row.card.name + " is gone.");
    return said;
}

std::string printText (const spotting::Book& book, const std::string& id)
{
    for (const auto& print : book.prints)
        if (print.id == id && ! print.name.empty())
            return print.name;
    return id;
}

std::vector<std::string> sourcesOf (const spotting::Book& before, const film::Edition& was, const spotting::Book& now,
                                    const film::Edition& is)
{
    std::vector<std::string> said;
    std::map<std::pair<std::string, std::string>, int> prints;
    std::set<std::string> seen;
    for (const auto& shot : is.shots)
    {
        const auto old = std::find_if (was.shots.begin(), was.shots.end(), [&] (const film::Shot& s) { return s.id == shot.id; });
        if (old == was.shots.end() || ! seen.insert (shot.id).second)
            continue;
        if (! shot.made && ! old->made && shot.print != old->print)
            ++prints[{ printText (before, old->print), printText (now, shot.print) }];
        std::string text;
        if (old->making() != shot.making())
            text = shot.making().empty() ? " is that of a print again" : " is " + std::string (shot.making());
        if (old->reason != shot.reason)
            text += (text.empty() ? "" : ";")
                    + std::string (shot.reason.empty() ? " no reason is noted" : " reason: " + shot.reason)
                    + (old->reason.empty() ? "" : " (was: " + old->reason + ")");
        if (! text.empty())
            said.push_back ((shot.kind == film::ShotKind::card ? "Card " : "Shot ") + shot.name + text + ".");
    }
    for (const auto& [names, count] : prints)
        said.push_back (std::to_string (count) + (count == 1 ? " shot is" : " shots are") + " from print " + names.second
                        + (count == 1 ? " (was" : " (were") + " from print " + names.first + ").");
    return said;
}

Result<std::vector<std::string>> cuesOf (const spotting::Book& book, const std::string& before, const std::string& now)
{
    const auto carried = spotting::carry (book, before, now);
    if (! carried)
        return carried.error();
    std::vector<std::string> said;
    for (const auto& cue : carried->cues)
    {
        const auto name = "Cue " + (cue.cue.number.empty() ? cue.cue.id : cue.cue.number);
        if (! cue.seconds)
        {
            said.push_back (name + " has lost its place: " + (cue.in.after ? cue.out.why : cue.in.why) + ".");
            continue;
        }
        std::string text;
        for (const auto& change : cue.inside)
            if (change.seconds.sign() != 0)
                text += std::string (text.empty() ? "" : "; ")
                        + (change.bar.empty() ? "at " + time::clockText (change.cueSeconds) : change.bar) + " "
                        + longer (change.seconds);
        if (cue.seconds->sign() != 0)
            said.push_back (name + " is " + longer (*cue.seconds) + (text.empty() ? "" : ": " + text) + ".");
        else if (! text.empty())
            said.push_back (name + " is as long as it was, but " + text + ".");
    }
    return said;
}
} // namespace

Result<BookDifference> compareBooks (const spotting::Book& before, const std::string& editionBefore, const spotting::Book& now,
                                     const std::string& editionNow)
{
    const auto was = timesIn (before, editionBefore), is = timesIn (now, editionNow);
    if (! was)
        return was.error();
    if (! is)
        return is.error();
    BookDifference difference;
    difference.decisions = spotting::changesBetween (spotting::sentState (*was), spotting::sentState (*is));
    difference.cards = cardsOf (spotting::cardRows (before, was->timings), spotting::cardRows (now, is->timings));
    difference.sources = sourcesOf (before, was->timings.edition(), now, is->timings.edition());
    if (editionBefore != editionNow && spotting::editionOf (now, editionBefore) != nullptr)
    {
        auto cues = cuesOf (now, editionBefore, editionNow);
        if (! cues)
            return cues.error();
        difference.cues = std::move (*cues);
    }
    return difference;
}
} // namespace shutterbeat::desk
