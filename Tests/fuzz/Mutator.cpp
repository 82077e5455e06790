#include "fuzz/Mutator.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace shutterbeat::fuzz
{
namespace
{
using namespace std::string_view_literals;

/// Bytes and words at which readers of any kind tend to break.
constexpr std::array nasty{ "\xFF\xFF\xFF\xFF"sv,
                            "\x7F\xFF\xFF\xFF"sv,
                            "\x80\0\0\0"sv,
                            "\0\0\0\0"sv,
                            "\0"sv,
                            "\xFF\xFF\xFF\x7F"sv,
                            "\xEF\xBB\xBF"sv,
                            "\xC3\x28"sv,
                            "\r"sv,
                            "\n\n"sv,
                            "-"sv,
                            "/0"sv,
                            "1/0"sv,
                            "-1"sv,
                            "0"sv,
                            "9223372036854775807"sv,
                            "-9223372036854775808"sv,
                            "1e999"sv,
                            "170141183460469231731687303715884105728"sv,
                            "99999999999999999999999999999999999999999"sv,
                            "NaN"sv,
                            "\""sv,
                            "'"sv,
                            "\\"sv,
                            ","sv,
                            ";"sv,
                            ":"sv,
                            "{"sv,
                            "}"sv,
                            "["sv,
                            "]"sv,
                            "<"sv,
                            ">"sv,
                            "&"sv,
                            "null"sv,
                            "true"sv,
                            "-->"sv,
                            "00:00:00:00"sv,
                            "23:59:59;29"sv,
                            "MTrk"sv,
                            "data"sv,
                            "* "sv };

void changeOne (std::string& bytes, const std::vector<std::string>& seeds, Dice& dice, std::size_t largest)
{
    const auto at = dice.below (bytes.size() + 1);
    const auto rest = bytes.size() - at;
    const auto some = [&] (std::size_t most) { return dice.below (std::min (most, rest) + 1); };
    switch (dice.below (9))
    {
    case 0:
        if (rest > 0)
            bytes[at] = static_cast<char> (bytes[at] ^ (1 << dice.below (8)));
        return;
    case 1:
        if (rest > 0)
            bytes[at] = static_cast<char> (dice.below (256));
        return;
    case 2:
        bytes.erase (at, some (dice.below (4) == 0 ? rest : 16));
        return;
    case 3: // a piece once more, somewhere else
    {
        const auto piece = bytes.substr (at, some (dice.below (4) == 0 ? 512 : 24));
        bytes.insert (dice.below (bytes.size() + 1), piece);
        break;
    }
    case 4: // a piece of another seed
    {
        const auto& other = seeds[dice.below (seeds.size())];
        const auto from = dice.below (other.size() + 1);
        bytes.insert (at, other, from, dice.below (64));
        break;
    }
    case 5:
        bytes.insert (at, nasty[dice.below (nasty.size())]);
        break;
    case 6:
    {
        const auto word = nasty[dice.below (nasty.size())];
        bytes.replace (at, std::min (word.size(), rest), word);
        break;
    }
    case 7: // a digit for a digit: keeps the form and changes the sense
    {
        const auto digit = bytes.find_first_of ("0123456789", at);
        if (digit != std::string::npos)
            bytes[digit] = static_cast<char> ('0' + dice.below (10));
        return;
    }
    default: // the head of one, the tail of another
    {
        const auto& other = seeds[dice.below (seeds.size())];
        if (dice.below (4) == 0 && ! other.empty())
            bytes = bytes.substr (0, at) + other.substr (dice.below (other.size()));
        break;
    }
    }
    if (bytes.size() > largest)
        bytes.resize (largest);
}

std::string repeated (std::string_view piece, std::size_t times)
{
    std::string all;
    all.reserve (piece.size() * times);
    for (std::size_t i = 0; i < times; ++i)
        all += piece;
    return all;
}
} // namespace

std::uint64_t Dice::next()
{
    state += 0x9E3779B97F4A7C15ull;
    auto mixed = state;
    mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9ull;
    mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EBull;
    return mixed ^ (mixed >> 31);
}

std::string mutated (const std::vector<std::string>& seeds, Dice& dice, std::size_t largest)
{
    auto bytes = seeds[dice.below (seeds.size())].substr (0, largest);
    const auto changes = 1 + dice.below (8);
    for (std::size_t i = 0; i < changes; ++i)
        changeOne (bytes, seeds, dice, largest);
    return bytes;
}

std::vector<std::string> hostileInputs()
{
    constexpr std::size_t million = 1'000'000;
    std::vector<std::string> all;
    for (const auto piece : { "["sv, "{\"a\":"sv, "[[],"sv, "<a>"sv, "\""sv, "\"\","sv, ","sv, "\n"sv, "\r"sv, "9"sv, "0:"sv,
                              "\\"sv, "\0"sv, "\xFF"sv, "-->\n"sv, "1/"sv, "[CHAPTER]\n"sv, "00:00:00.000 --> 00:00:01.000\n"sv,
                              "001  AX       V     C        01:00:00:00 01:00:01:00 01:00:00:00 01:00:01:00\n"sv })
        all.push_back (repeated (piece, std::min (million, std::size_t{ 2'000'000 } / piece.size())));
    // Elements closed again, children beside one another, and the same within a score.
    all.push_back (repeated ("<a>", 100'000) + repeated ("</a>", 100'000));
    all.push_back ("<score-partwise><part><measure>" + repeated ("<note><duration>1</duration></note>", 100'000)
                   + "</measure></part></score-partwise>");
    all.push_back ("<score-partwise><part>" + repeated ("<measure number=\"1\"/>", 150'000) + "</part></score-partwise>");
    // Each entity ten times the one before: a thousand million words if anybody expanded them.
    std::string bomb = "<?xml version=\"1.0\"?>\n<!DOCTYPE z [\n<!ENTITY e0 \"ha\">\n";
    for (int i = 1; i < 10; ++i)
        bomb += "<!ENTITY e" + std::to_string (i) + " \"" + repeated ("&e" + std::to_string (i - 1) + ";", 10) + "\">\n";
    all.push_back (
        bomb + "]>\n<score-partwise><part><measure number=\"1\"><direction>&e9;</direction></measure></part></score-partwise>");
    all.push_back ("<!DOCTYPE a [<!ENTITY x SYSTEM \"file:///etc/passwd\">]><score-partwise><part>&x;</part></score-partwise>");
    // Timelines within timelines, wide and deep.
    const std::string stack = "{\"OTIO_SCHEMA\":\"Stack.1\",\"children\":[";
    for (const std::size_t deep : { std::size_t{ 60 }, std::size_t{ 5000 } })
        all.push_back ("{\"OTIO_SCHEMA\":\"Timeline.1\",\"tracks\":" + repeated (stack, deep) + repeated ("]}", deep) + "}");
    // Lengths that the bytes after them do not keep.
    for (const auto length : { "\xFF\xFF\xFF\x7F"sv, "\xFF\xFF\xFF\xFF"sv, "\0\0\0\x80"sv })
    {
        const std::string format ("fmt \x10\0\0\0\x01\0\x01\0\x80\xBB\0\0\0\x77\x01\0\x02\0\x10\0", 24);
        for (const auto word : { "fmt "sv, "bext"sv, "cue "sv, "LIST"sv, "data"sv, "ds64"sv })
            all.push_back (std::string ("RIFF\xFF\xFF\xFF\xFFWAVE", 12) + format + std::string (word) + std::string (length)
                           + "abcd");
        all.push_back (std::string ("RF64\xFF\xFF\xFF\xFFWAVEds64\x1C\0\0\0", 20) + std::string (24, '\xFF') + format + "data"
                       + std::string (length));
        all.push_back (std::string ("MThd\0\0\0\x06\0\x01\0\x01\x01\xE0MTrk", 18) + std::string (length)
                       + std::string ("\0\xFF\x01\xFF\xFF\xFF\x7F", 7));
    }
    all.push_back (std::string ("MThd\x7F\xFF\xFF\xFF\0\x01\0\x01\x01\xE0MTrk", 18));
    return all;
}
} // namespace shutterbeat::fuzz
