#include "desk/ImportHits.h"

#include "spotting/Edit.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace shutterbeat::desk
{
namespace
{
using spotting::HitPoint;
constexpr const char* joint = " / ";

/// Two hits share a place when the same picture (or the same moment outside it) is meant.
using Spot = std::tuple<std::size_t, time::Rational, time::Rational>;

Spot spotOf (const film::Position& position)
{
    return { position.reel, position.time, position.outsideSeconds };
}

/// The parts of a label that was joined before.
std::vector<std::string> namesOf (const std::string& label)
{
    std::vector<std::string> names;
    const std::string sign = joint;
    std::size_t from = 0;
    for (auto at = label.find (sign); at != std::string::npos; from = at + sign.size(), at = label.find (sign, from))
        names.push_back (label.substr (from, at - from));
    names.push_back (label.substr (from));
    return names;
}

/// Both texts, each part once.
std::string joined (const std::string& first, const std::string& second, const std::string& sign)
{
    if (first.empty() || second.empty())
        return first.empty() ? second : first;
    std::string all = first;
    for (const auto& name : namesOf (second))
    {
        const auto known = namesOf (first);
        if (std::find (known.begin(), known.end(), name) == known.end())
            all += sign + name;
    }
    return all;
}

/// The hit with both names and notes; the heavier weight; open when either is.
HitPoint both (HitPoint hit, const IncomingHit& more)
{
    hit.label = joined (hit.label, more.hit.label, joint);
    if (! more.hit.note.empty() && hit.note.find (more.hit.note) == std::string::npos)
        hit.note += (hit.note.empty() ? "" : "\n") + more.hit.note;
    if (more.given.contains ("weight"))
        hit.weight = std::min (hit.weight, more.hit.weight);
    if (hit.cue.empty())
        hit.cue = more.hit.cue;
    return hit;
}

/// Puts one member in where the file gives it, and tells what changed.
template <class T, class Text>
void take (std::string& changed, const IncomingHit& from, const char* column, T& member, const T& value, Text text)
{
    if (! from.given.contains (column) || member == value)
        return;
    changed += (changed.empty() ? "" : ", ") + std::string (column) + " " + text (member) + " to " + text (value);
    member = value;
}

/// The book's hit with what the file says of it; `changed` tells the differences.
HitPoint overlaid (HitPoint hit, const IncomingHit& from, const film::Timings& timings, std::string& changed)
{
    const auto now = timings.find (hit.place);
    if (from.given.contains ("place") && from.where && (! now || spotOf (*now) != spotOf (*from.where)))
    {
        changed = "place " + timings.placeText (hit.place) + " to " + timings.placeText (from.hit.place);
        hit.place = from.hit.place;
    }
    take (changed, from, "label", hit.label, from.hit.label, inQuotes);
    take (changed, from, "kind", hit.kind, from.hit.kind, [] (auto kind) { return std::string (spotting::hitKindName (kind)); });
    take (changed, from, "weight", hit.weight, from.hit.weight,
          [] (auto weight) { return std::string (spotting::weightName (weight)); });
    take (changed, from, "lead", hit.lead, from.hit.lead, [] (const auto& lead) { return time::fractionText (lead) + " s"; });
    take (changed, from, "early_ms", hit.earlyMs, from.hit.earlyMs, [] (int ms) { return std::to_string (ms); });
    take (changed, from, "late_ms", hit.lateMs, from.hit.lateMs, [] (int ms) { return std::to_string (ms); });
    take (changed, from, "note", hit.note, from.hit.note, inQuotes);
    take (changed, from, "asked_by", hit.askedBy, from.hit.askedBy, inQuotes);
    take (changed, from, "agreed", hit.agreed, from.hit.agreed, [] (bool yes) { return std::string (yes ? "yes" : "no"); });
    take (changed, from, "cue", hit.cue, from.hit.cue, [] (const std::string& cue) { return cue.empty() ? "none" : cue; });
    if (! changed.empty())
        hit.fromScan = false;
    return hit;
}
} // namespace

std::string inQuotes (const std::string& text)
{
    return "\"" + text + "\"";
}

std::string hitName (const HitPoint& hit)
{
    const std::string name = hit.label.empty() ? std::string (spotting::hitKindName (hit.kind)) : hit.label;
    return hit.id.empty() ? name : name + " (" + hit.id + ")";
}

Result<film::Place> placeOfDelivered (const film::Timings& timings, std::size_t reel, std::int64_t delivered)
{
    const auto end = timings.deliveredLength (reel);
    if (delivered >= 0 && delivered <= end)
    {
        const auto position = timings.atDelivered (delivered, reel);
        return position ? Result<film::Place> (timings.placeAt (*position)) : position.error();
    }
    const film::OutsidePlace outside{ delivered > end, timings.clockOf (delivered > end ? delivered - end : delivered) };
    if (const auto position = timings.find (film::Place (outside)); ! position)
        return position.error();
    if (reel != (delivered > end ? timings.reelCount() - 1 : 0))
        return usageError ("delivered frame " + std::to_string (delivered),
                           "lies outside reel " + std::to_string (reel + 1) + ", where another reel is");
    return film::Place (outside);
}

film::Place edgeWhereUsual (const film::Timings& timings, const film::Place& place, spotting::HitKind kind)
{
    if (kind != spotting::HitKind::cut && kind != spotting::HitKind::card)
        return place;
    const auto position = timings.find (place);
    if (! position || position->where != film::Position::Where::picture || position->frameInShot != 0)
        return place;
    const auto& shots = timings.edition().shots;
    film::EdgePlace edge;
    edge.shot = shots[position->shot].id;
    for (std::size_t i = 0; i < position->shot; ++i)
        edge.instance += shots[i].id == edge.shot ? 1 : 0;
    return edge;
}

Result<Done> mergeHits (ImportPlan& plan, const film::Timings& timings, std::vector<IncomingHit> incoming,
                        const std::string& person)
{
    using Kind = ImportChange::Kind;
    std::map<Spot, std::vector<std::string>> idAt; // the hits of the book at a place
    for (const auto& hit : plan.book.hits)
        if (const auto position = timings.find (hit.place))
            idAt[spotOf (*position)].push_back (hit.id);
    std::map<std::string, HitPoint> changed;
    const auto current = [&] (const std::string& id) -> HitPoint
    {
        const auto found = changed.find (id);
        return found != changed.end() ? found->second : *spotting::hitOf (plan.book, id);
    };
    std::vector<HitPoint> added;
    std::map<Spot, std::size_t> newAt; // index into added
    for (auto& from : incoming)
    {
        if (! from.hit.id.empty() && spotting::hitOf (plan.book, from.hit.id) != nullptr)
        {
            std::string differences;
            const auto hit = overlaid (current (from.hit.id), from, timings, differences);
            if (differences.empty())
                plan.changes.push_back ({ Kind::same, from.line, hitName (hit) });
            else
            {
                changed[hit.id] = hit;
                plan.changes.push_back ({ Kind::changed, from.line, hitName (hit) + ": " + differences });
            }
            continue;
        }
        if (! from.hit.id.empty())
            plan.notes.push_back ("the book has no hit " + from.hit.id + "; it comes in as a new one with a new id");
        from.hit.id.clear();
        if (from.where)
            if (const auto known = idAt.find (spotOf (*from.where)); known != idAt.end())
            {
                // Of several at that place the one that has the name already, else the first.
                auto old = current (known->second.front());
                for (const auto& id : known->second)
                    if (const auto other = current (id); both (other, from) == other)
                        old = other;
                const auto hit = both (old, from);
                if (hit == old)
                    plan.changes.push_back ({ Kind::same, from.line, hitName (old) });
                else
                {
                    changed[hit.id] = hit;
                    plan.changes.push_back ({ Kind::merged, from.line,
                                              hitName (from.hit) + " shares its place with " + hitName (old)
                                                  + "; one hit with both names: " + hit.label });
                }
                continue;
            }
        if (from.where)
            if (const auto known = newAt.find (spotOf (*from.where)); known != newAt.end())
            {
                auto& hit = added[known->second];
                const auto before = hitName (hit);
                hit = both (hit, from);
                plan.changes.push_back ({ Kind::merged, from.line,
                                          hitName (from.hit) + " shares its place with " + before
                                              + " of the same list; one hit with both names: " + hit.label });
                continue;
            }
        if (from.where)
            newAt.emplace (spotOf (*from.where), added.size());
        plan.changes.push_back (
            { Kind::added, from.line,
              hitName (from.hit) + " at " + timings.placeText (from.hit.place) + (from.where ? "" : ", lost in this edition") });
        added.push_back (from.hit);
    }
    std::vector<HitPoint> replaced;
    for (auto& [id, hit] : changed)
        replaced.push_back (hit);
    if (! replaced.empty())
    {
        auto book = spotting::setHits (plan.book, replaced);
        if (! book)
            return book.error();
        plan.book = std::move (*book);
    }
    if (! added.empty())
    {
        auto edited = spotting::addHits (plan.book, person, added);
        if (! edited)
            return edited.error();
        plan.book = std::move (edited->book);
    }
    return Done{};
}
} // namespace shutterbeat::desk
