#include "cli/RecutText.h"

#include "cli/Table.h"
#include "time/Clock.h"

#include <cmath>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

std::string plus (std::int64_t frames)
{
    return (frames > 0 ? "+" : "") + std::to_string (frames);
}

std::string plusSeconds (const time::Rational& seconds)
{
    return (seconds.sign() > 0 ? "+" : "") + time::secondsText (seconds) + " s";
}

std::string count (std::int64_t first)
{
    return first < 0 ? "" : std::to_string (first);
}

/// What changed with how much longer the picture is there.
std::string insideWords (const spotting::InsideChange& change)
{
    return spotting::insideText (change) + " (" + plusSeconds (change.seconds) + ")";
}

std::string placeText (const spotting::CarriedPlace& place)
{
    using spotting::Fate;
    if (place.fate == Fate::lost)
        return "lost: " + place.why;
    if (place.fate == Fate::back)
        return "found again";
    std::string text = place.fate == Fate::unmoved ? "unmoved" : "moved " + plus (place.frames);
    if (place.frames == 0 && place.delivered != 0)
        text = "moved " + plus (place.delivered) + " delivered";
    if (place.trimmed > 0)
        text += ", kept on its cut, picture trimmed by " + std::to_string (place.trimmed);
    if (place.trimmed < 0)
        text += ", kept on its cut, picture longer by " + std::to_string (-place.trimmed);
    return text;
}

Json placeJson (const spotting::CarriedPlace& place)
{
    Json json{ { "fate", std::string (spotting::fateName (place.fate)) } };
    if (place.before)
        json["old"] = { { "film_frame", place.before->filmFrame }, { "delivered", place.before->delivered } };
    if (place.after)
        json["new"] = { { "film_frame", place.after->filmFrame }, { "delivered", place.after->delivered } };
    if (place.before && place.after)
    {
        json["moved_film_frames"] = place.frames;
        json["moved_delivered_frames"] = place.delivered;
    }
    if (place.trimmed != 0)
        json["picture_trimmed"] = place.trimmed;
    if (! place.why.empty())
        json["why"] = place.why;
    return json;
}

Json pendingJson (const spotting::PendingMatch& match)
{
    return { { "id", match.id },
             { "doubt", std::string (spotting::doubtName (match.doubt)) },
             { "print", match.print },
             { "first", match.first },
             { "other", match.other },
             { "other_first", match.otherFirst },
             { "frames", match.frames },
             { "shot", match.shot },
             { "other_shot", match.otherShot },
             { "sure", match.sure / 1000.0 } };
}
/// What may be done, least change first, with its cost.
void printRemedies (const spotting::InsideRemedies& found, std::ostream& out)
{
    for (const auto& way : found.ways)
        out << "        cost " << time::decimalText (time::Rational (std::llround (way.cost * 100), 100), 2) << ": " << way.text
            << "\n";
    for (const auto& note : found.notes)
        out << "        (" << note << ")\n";
}

Json remediesJson (const spotting::InsideRemedies& found)
{
    Json ways = Json::array();
    for (const auto& way : found.ways)
    {
        Json json{ { "kind", std::string (spotting::remedyKindName (way.kind)) }, { "cost", way.cost }, { "said", way.text } };
        if (way.endBar > 0)
            json["bars"] = { { "first", way.firstBar }, { "end", way.endBar } };
        if (way.way)
        {
            json["beats"] = way.way->beats;
            json["bars_in"] = way.way->barsIn;
            json["beats_in_one_bar"] = way.way->beatsInBar;
            json["one_of_bars"] = way.way->bars;
            json["nudge"] = way.way->nudge;
            json["nudge_beats"] = way.way->nudgeBeats;
            json["frames_left"] = way.way->leftFrames;
        }
        if (way.left.sign() != 0)
            json["left_seconds"] = time::fractionText (way.left);
        for (const auto& card : way.cards)
        {
            Json rules = Json::array();
            for (const auto rule : card.rules)
                rules.push_back (std::string (spotting::readingRuleName (rule)));
            json["cards"].push_back ({ { "shot", card.shot },
                                       { "name", card.name },
                                       { "film_frames", card.frames },
                                       { "was_seconds", time::fractionText (card.was) },
                                       { "becomes_seconds", time::fractionText (card.becomes) },
                                       { "still_readable_by", std::move (rules) } });
        }
        if (! way.cards.empty())
            json["hits_left_beside"] = way.hitsOff;
        ways.push_back (std::move (json));
    }
    return { { "ways", std::move (ways) }, { "notes", found.notes } };
}
} // namespace

std::string hitText (const spotting::CarriedHit& hit)
{
    std::string text = placeText (hit.place);
    if (hit.interval && *hit.interval != 0)
        text +=
            ", " + std::to_string (std::abs (*hit.interval)) + (*hit.interval > 0 ? " more" : " fewer") + " since the hit before";
    else if (hit.phase)
        text += ", same pictures, " + std::to_string (std::abs (*hit.intervalDelivered)) + " delivered frame(s) "
                + (*hit.intervalDelivered > 0 ? "more" : "fewer") + " since the hit before (phase)";
    return text;
}

void printRecut (const spotting::Carried& carried, const std::vector<spotting::RecutRow>& rows,
                 const std::vector<spotting::InsideRemedies>& remedies, const std::vector<spotting::PendingMatch>& pending,
                 std::ostream& out)
{
    out << "edition " << carried.before << ", " << carried.changes.oldFrames << " film frames, to edition " << carried.after << ", "
        << carried.changes.newFrames << "\n";
    std::vector<std::vector<std::string>> table;
    for (const auto& row : rows)
        table.push_back ({ row.shot, spotting::whatText (row), count (row.oldFirst),
                           row.oldFirst < 0 ? "" : std::to_string (row.oldFrames), count (row.newFirst),
                           row.newFirst < 0 ? "" : std::to_string (row.newFrames),
                           row.oldFirst < 0 || row.newFirst < 0 ? "" : plus (row.by) });
    printTable (
        { { "shot" }, { "what" }, { "old", true }, { "frames", true }, { "new", true }, { "frames", true }, { "by", true } }, table,
        out);
    if (! carried.hits.empty())
    {
        table.clear();
        for (const auto& hit : carried.hits)
            table.push_back ({ hit.hit.id, hit.place.before ? std::to_string (hit.place.before->filmFrame) : "",
                               hit.place.after ? std::to_string (hit.place.after->filmFrame) : "", hitText (hit),
                               oneLine (hit.hit.label) });
        out << "\n";
        printTable ({ { "hit" }, { "old", true }, { "new", true }, { "what" }, { "label" } }, table, out);
    }
    for (std::size_t c = 0; c < carried.cues.size(); ++c)
    {
        const auto& cue = carried.cues[c];
        out << "\ncue " << (cue.cue.number.empty() ? cue.cue.id : cue.cue.number) << " " << oneLine (cue.cue.title) << ": in "
            << placeText (cue.in) << "; out " << placeText (cue.out);
        if (cue.frames && cue.seconds && (*cue.frames != 0 || cue.seconds->sign() != 0))
            out << "; " << plus (*cue.frames) << " film frames (" << plus (cue.out.delivered - cue.in.delivered) << " delivered, "
                << plusSeconds (*cue.seconds) << ")";
        out << "\n";
        for (std::size_t i = 0; i < cue.inside.size(); ++i)
        {
            out << "    " << insideWords (cue.inside[i]) << "\n";
            for (const auto& found : remedies)
                if (found.cue == c && found.change == i)
                    printRemedies (found, out);
        }
    }
    for (const auto& conflict : carried.conflicts)
        out << "conflict: " << conflict << "\n";
    for (const auto& match : pending)
        out << "pending " << match.id << ": "
            << (match.doubt == spotting::Doubt::card    ? "is it the same card, made anew?"
                : match.doubt == spotting::Doubt::frame ? "the same shot, but which frame is which?"
                                                        : "is it the same shot?")
            << " print " << match.print << " film frames " << match.first << " to " << match.first + match.frames << ", print "
            << match.other << " from " << match.otherFirst << ", sure " << match.sure / 10 << " %\n";
}

Json recutJson (const spotting::Carried& carried, const std::vector<spotting::RecutRow>& rows,
                const std::vector<spotting::InsideRemedies>& remedies, const std::vector<spotting::PendingMatch>& pending)
{
    Json shots = Json::array(), runs = Json::array(), hits = Json::array(), cues = Json::array(), open = Json::array();
    for (const auto& row : rows)
    {
        Json json{ { "what", row.what }, { "shot", row.shot }, { "id", row.id } };
        if (row.oldFirst >= 0)
            json["old"] = { { "first", row.oldFirst }, { "frames", row.oldFrames } };
        if (row.newFirst >= 0)
            json["new"] = { { "first", row.newFirst }, { "frames", row.newFrames } };
        if (row.oldFirst >= 0 && row.newFirst >= 0)
            json["by"] = row.by;
        shots.push_back (std::move (json));
    }
    for (const auto& change : carried.changes.changes)
        runs.push_back ({ { "kind", std::string (film::changeKindName (change.kind)) },
                          { "old_first", change.oldFirst },
                          { "new_first", change.newFirst },
                          { "frames", change.frames } });
    for (const auto& hit : carried.hits)
    {
        Json json{
            { "id", hit.hit.id }, { "label", hit.hit.label }, { "place", placeJson (hit.place) }, { "said", hitText (hit) }
        };
        if (hit.interval)
            json["interval"] = *hit.interval;
        if (hit.phase)
            json["phase"] = true;
        if (! hit.lastPicture.empty())
            json["last_picture"] = hit.lastPicture;
        hits.push_back (std::move (json));
    }
    for (std::size_t c = 0; c < carried.cues.size(); ++c)
    {
        const auto& cue = carried.cues[c];
        Json inside = Json::array();
        for (std::size_t i = 0; i < cue.inside.size(); ++i)
        {
            const auto& change = cue.inside[i];
            Json json{ { "old_film_frame", change.oldFrame },
                       { "new_film_frame", change.newFrame },
                       { "out", change.out },
                       { "in", change.in },
                       { "seconds", time::fractionText (change.seconds) },
                       { "from_cue_in", time::fractionText (change.cueSeconds) },
                       { "said", insideWords (change) } };
            if (! change.bar.empty())
                json["bar"] = change.bar;
            for (const auto& found : remedies)
                if (found.cue == c && found.change == i)
                    json["remedies"] = remediesJson (found);
            inside.push_back (std::move (json));
        }
        Json json{
            { "id", cue.cue.id }, { "number", cue.cue.number }, { "in", placeJson (cue.in) }, { "out", placeJson (cue.out) }
        };
        if (cue.frames && cue.seconds)
        {
            json["longer_film_frames"] = *cue.frames;
            json["longer_delivered_frames"] = cue.out.delivered - cue.in.delivered;
            json["longer_seconds"] = time::fractionText (*cue.seconds);
        }
        json["inside"] = std::move (inside);
        cues.push_back (std::move (json));
    }
    for (const auto& match : pending)
        open.push_back (pendingJson (match));
    return { { "before", carried.before },
             { "after", carried.after },
             { "old_film_frames", carried.changes.oldFrames },
             { "new_film_frames", carried.changes.newFrames },
             { "shots", std::move (shots) },
             { "runs", std::move (runs) },
             { "hits", std::move (hits) },
             { "cues", std::move (cues) },
             { "conflicts", carried.conflicts },
             { "pending", std::move (open) } };
}
} // namespace shutterbeat::cli
