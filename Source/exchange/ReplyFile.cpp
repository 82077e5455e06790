#include "exchange/ReplyFile.h"

#include "exchange/JsonText.h"
#include "time/Reach.h"

#include <algorithm>

namespace shutterbeat::exchange
{
namespace
{
using ReplyJson = nlohmann::json;

/// A whole number as JavaScript can hold it; none: it is missing, or anything else.
std::optional<std::int64_t> wholeOf (const ReplyJson& object, const char* name)
{
    constexpr std::int64_t most = std::int64_t{ 1 } << 53;
    const auto found = object.find (name);
    if (found == object.end() || ! found->is_number_integer())
        return {};
    if (found->is_number_unsigned() && found->get<std::uint64_t>() > static_cast<std::uint64_t> (most))
        return {};
    const auto whole = found->get<std::int64_t>();
    return whole < -most ? std::nullopt : std::optional (whole);
}

/// A hit as the page has it; what it lacks is left as a new hit has it.
Result<spotting::HitPoint> hitOf (const ReplyJson& json)
{
    spotting::HitPoint hit;
    hit.id = textOf (json, "id");
    if (const auto kind = spotting::parseHitKind (textOf (json, "kind")))
        hit.kind = *kind;
    else
        return kind.error();
    if (const auto weight = spotting::parseWeight (textOf (json, "weight")))
        hit.weight = *weight;
    else
        return weight.error();
    hit.label = textOf (json, "label");
    hit.note = textOf (json, "note");
    hit.askedBy = textOf (json, "asked_by");
    hit.cue = textOf (json, "cue");
    hit.agreed = json.contains ("agreed") && json["agreed"].is_boolean() && json["agreed"].get<bool>();
    if (const auto text = textOf (json, "lead"); ! text.empty())
    {
        const auto lead = time::parseRational (text);
        if (! lead || ! time::withinReach (*lead))
            return usageError ("lead " + text, "is no number of seconds, or too large or too fine a one");
        hit.lead = *lead;
    }
    return hit;
}

void readHit (const ReplyJson& json, Reply& reply)
{
    HitReply said;
    said.id = textOf (json, "id");
    const auto sent = json.find ("sent");
    if (said.id.empty() || sent == json.end() || ! sent->is_object())
    {
        reply.bad.push_back ("an answer does not say which hit it is about");
        return;
    }
    const auto hit = hitOf (*sent);
    if (! hit)
    {
        reply.bad.push_back ("the answer to " + said.id + ": " + hit.error().text());
        return;
    }
    said.sent = *hit;
    said.sentPlace = textOf (*sent, "place");
    if (const auto weight = textOf (json, "weight"); ! weight.empty())
    {
        const auto parsed = spotting::parseWeight (weight);
        if (! parsed)
            reply.bad.push_back ("the answer to " + said.id + ": " + parsed.error().text());
        else
            said.weight = *parsed;
    }
    if (const auto answer = textOf (json, "answer"); answer == "agreed" || answer == "refused")
        said.agreed = answer == "agreed";
    said.words = textOf (json, "words");
    reply.hits.push_back (std::move (said));
}

void readAdded (const ReplyJson& json, Reply& reply)
{
    const auto hit = hitOf (json);
    const auto frame = wholeOf (json, "frame");
    const auto reel = json.contains ("reel") ? wholeOf (json, "reel") : 0;
    if (! hit || hit->id.empty() || ! frame || ! reel || *reel < 0)
    {
        reply.bad.push_back ("a new hit \"" + textOf (json, "label")
                             + "\" lacks its id, reel, frame, kind or weight, or its lead can't be read");
        return;
    }
    reply.added.push_back ({ *hit, static_cast<std::size_t> (*reel), *frame });
}
} // namespace

Result<Reply> readReply (std::string_view bytes)
{
    const auto json = ReplyJson::parse (bytes, nullptr, false);
    if (json.is_discarded() || ! json.is_object() || textOf (json, "document") != "shutterbeat reply")
        return unreadable ("reply", "is no file that the web page saved; ask for it again");
    if (wholeOf (json, "schema") != 1)
        return unreadable ("reply", "was saved by a page of a newer program; open it with that one");
    Reply reply;
    reply.title = textOf (json, "title");
    reply.edition = textOf (json, "edition");
    reply.finalRate = textOf (json, "final_rate");
    reply.fill = textOf (json, "fill");
    reply.running = textOf (json, "running");
    reply.parcel =
        static_cast<int> (std::min<std::int64_t> (std::max<std::int64_t> (wholeOf (json, "parcel").value_or (0), 0), 1000000));
    if (const auto person = json.find ("person"); person != json.end() && person->is_object())
    {
        reply.personId = textOf (*person, "id");
        reply.personName = textOf (*person, "name");
        reply.lastNumber = std::max<std::int64_t> (wholeOf (*person, "last_number").value_or (0), 0);
    }
    const auto each = [&] (const char* name, auto read)
    {
        const auto list = json.find (name);
        if (list == json.end() || ! list->is_array())
            return;
        for (const auto& one : *list)
            if (one.is_object())
                read (one, reply);
            else
                reply.bad.push_back (std::string ("an entry of ") + name + " can't be read");
    };
    each ("hits", readHit);
    each ("added", readAdded);
    each ("cues", [] (const ReplyJson& one, Reply& into) { into.cues.push_back ({ textOf (one, "id"), textOf (one, "words") }); });
    return reply;
}
} // namespace shutterbeat::exchange
