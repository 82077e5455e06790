#include "film/Place.h"

#include "time/Text.h"

#include <optional>

namespace shutterbeat::film
{
namespace
{
using time::parseRational;
using time::parseWhole;
using time::startsWith;
using Kind = TypedPlace::Kind;

constexpr const char* forms = "is not a place; write film:1000, file:1389, tc:01:00:55:14, feet:62+08, edge:SHOT.head+0, "
                              "-4.0s or end+2s";

std::optional<std::variant<std::int64_t, time::Rational>> readOffset (std::string_view text)
{
    if (text.empty())
        return std::int64_t{ 0 };
    if (text[0] != '+' && text[0] != '-')
        return {};
    if (text[0] == '+')
    {
        text.remove_prefix (1);
        if (startsWith (text, "-"))
            return {};
    }
    if (time::endsWith (text, "s"))
    {
        const auto seconds = parseRational (text.substr (0, text.size() - 1));
        if (! seconds)
            return {};
        return *seconds;
    }
    const auto frames = parseWhole (text);
    if (! frames)
        return {};
    return *frames;
}

std::optional<TypedPlace> readEdge (std::string_view text)
{
    // A shot's name may hold a dot, and even the word of an edge: the last one counts.
    const auto head = text.rfind (".head");
    const auto tail = text.rfind (".tail");
    const auto dot = head == std::string_view::npos || (tail != std::string_view::npos && tail > head) ? tail : head;
    if (dot == std::string_view::npos || dot == 0)
        return {};
    TypedPlace place;
    place.kind = Kind::edge;
    place.text = std::string (text.substr (0, dot));
    place.edge.edge = text.substr (dot, 5) == ".head" ? Edge::head : Edge::tail;
    const auto offset = readOffset (text.substr (dot + 5));
    if (! offset)
        return {};
    place.edge.offset = *offset;
    return place;
}

std::optional<TypedPlace> readPlace (std::string_view text, BareNumber bare)
{
    TypedPlace place;
    if (startsWith (text, "film:") || startsWith (text, "file:"))
    {
        const auto frame = parseWhole (text.substr (5));
        if (! frame)
            return {};
        place.kind = startsWith (text, "film:") ? Kind::filmFrame : Kind::fileFrame;
        place.frame = *frame;
        return place;
    }
    if (startsWith (text, "tc:") || startsWith (text, "feet:"))
    {
        const auto colon = text.find (':');
        place.kind = colon == 2 ? Kind::timecode : Kind::feet;
        place.text = std::string (text.substr (colon + 1));
        return place;
    }
    if (startsWith (text, "edge:"))
        return readEdge (text.substr (5));
    if (startsWith (text, "end"))
    {
        const auto offset = readOffset (text.substr (3));
        if (! offset)
            return {};
        place.kind = Kind::afterEnd;
        if (const auto* seconds = std::get_if<time::Rational> (&*offset))
            place.seconds = *seconds;
        else if (std::get<std::int64_t> (*offset) != 0)
            return {};
        if (place.seconds.sign() < 0)
            return {};
        return place;
    }
    if (time::endsWith (text, "s"))
    {
        const auto seconds = parseRational (text.substr (0, text.size() - 1));
        if (! seconds)
            return {};
        place.kind = Kind::seconds;
        place.seconds = *seconds;
        return place;
    }
    const auto number = parseWhole (text);
    if (! number)
        return {};
    place.kind = bare == BareNumber::filmFrame ? Kind::filmFrame : Kind::fileFrame;
    place.frame = *number;
    return place;
}
} // namespace

Result<TypedPlace> parsePlace (std::string_view text, BareNumber bare)
{
    auto body = time::trimmed (text);
    int reel = 1;
    if (body.size() > 2 && body[0] == 'r' && body[1] >= '0' && body[1] <= '9')
    {
        const auto colon = body.find (':');
        const auto number = parseWhole (body.substr (1, colon == std::string_view::npos ? colon : colon - 1));
        if (! number || *number < 1 || *number > 999 || colon == std::string_view::npos)
            return usageError ("\"" + std::string (text) + "\"", forms);
        reel = static_cast<int> (*number);
        body.remove_prefix (colon + 1);
    }
    auto place = readPlace (body, bare);
    if (! place)
        return usageError ("\"" + std::string (text) + "\"", forms);
    place->reel = reel;
    return *place;
}

std::string offsetText (const std::variant<std::int64_t, time::Rational>& offset)
{
    if (const auto* frames = std::get_if<std::int64_t> (&offset))
        return (*frames < 0 ? "" : "+") + std::to_string (*frames);
    const auto& seconds = std::get<time::Rational> (offset);
    return (seconds.sign() < 0 ? "" : "+") + time::fractionText (seconds) + "s";
}
} // namespace shutterbeat::film
