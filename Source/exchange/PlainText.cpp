#include "exchange/PlainText.h"

#include "time/Text.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <iterator>

namespace shutterbeat::exchange
{
namespace
{
/// Reads one code point and moves on; a byte that starts none stands for itself.
std::uint32_t nextCode (std::string_view& text)
{
    const auto byte = [&] (std::size_t i) { return static_cast<std::uint32_t> (static_cast<unsigned char> (text[i])); };
    const auto lead = byte (0);
    const std::size_t length = lead < 0xC0 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    if (length == 1 || length > text.size())
    {
        text.remove_prefix (1);
        return lead;
    }
    std::uint32_t code = lead & (0x7Fu >> length);
    for (std::size_t i = 1; i < length; ++i)
        code = (code << 6) | (byte (i) & 0x3Fu);
    text.remove_prefix (length);
    return code;
}

struct Plain
{
    std::uint32_t code;
    const char* text;
};

/// Letters whose plain form is not just their base letter, and signs; in order of code.
constexpr std::array<Plain, 48> plainSigns{ {
    { 0xA0, " " },    { 0xA1, "!" },    { 0xA9, "(c)" }, { 0xAB, "\"" },    { 0xAD, "" },     { 0xB0, " deg" }, { 0xB4, "'" },
    { 0xB7, "." },    { 0xBB, "\"" },   { 0xBC, "1/4" }, { 0xBD, "1/2" },   { 0xBE, "3/4" },  { 0xBF, "?" },    { 0xC6, "AE" },
    { 0xD0, "D" },    { 0xD7, "x" },    { 0xD8, "O" },   { 0xDE, "Th" },    { 0xDF, "ss" },   { 0xE6, "ae" },   { 0xF0, "d" },
    { 0xF8, "o" },    { 0xFE, "th" },   { 0x110, "D" },  { 0x111, "d" },    { 0x131, "i" },   { 0x132, "IJ" },  { 0x133, "ij" },
    { 0x141, "L" },   { 0x142, "l" },   { 0x152, "OE" }, { 0x153, "oe" },   { 0x1E9E, "SS" }, { 0x2010, "-" },  { 0x2011, "-" },
    { 0x2012, "-" },  { 0x2013, "-" },  { 0x2014, "-" }, { 0x2018, "'" },   { 0x2019, "'" },  { 0x201A, "'" },  { 0x201C, "\"" },
    { 0x201D, "\"" }, { 0x201E, "\"" }, { 0x2022, "*" }, { 0x2026, "..." }, { 0x2039, "'" },  { 0x203A, "'" },
} };

/// Base letters of U+00C0 to U+017F in order; a blank where `plainSigns` knows better or there is none.
constexpr std::string_view latinBases = "AAAAAA CEEEEIIII NOOOOO  UUUUY  aaaaaa ceeeeiiii nooooo  uuuuy y"
                                        "AaAaAaCcCcCcCcDd  EeEeEeEeEeGgGgGgGgHhHhIiIiIiIiI   JjKkkLlLlLlLl  NnNnNnnNnOoOoOo  "
                                        "RrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";

std::string plainOf (std::uint32_t code)
{
    if (code < 0x80)
        return { static_cast<char> (code) };
    // Marks that stand behind their letter in decomposed text.
    if (code >= 0x300 && code < 0x370)
        return "";
    const auto known =
        std::lower_bound (plainSigns.begin(), plainSigns.end(), code, [] (const Plain& p, std::uint32_t c) { return p.code < c; });
    if (known != plainSigns.end() && known->code == code)
        return known->text;
    if (code >= 0xC0 && code < 0x180 && latinBases[code - 0xC0] != ' ')
        return { latinBases[code - 0xC0] };
    return "?";
}
} // namespace

static_assert (latinBases.size() == 0x180 - 0xC0);

std::string oneLine (std::string_view text)
{
    std::string line;
    bool broken = false;
    while (! text.empty())
    {
        const auto before = text;
        const auto code = nextCode (text);
        if (code < 0x20 || code == 0x7F || (code == 0x85 && before.size() - text.size() == 2) || code == 0x2028 || code == 0x2029)
        {
            broken = true;
            continue;
        }
        if (broken && ! line.empty())
            line += ' ';
        broken = false;
        line += before.substr (0, before.size() - text.size());
    }
    return line;
}

std::string asciiOnly (std::string_view text)
{
    std::string plain;
    while (! text.empty())
        plain += plainOf (nextCode (text));
    return plain;
}

std::string fromUtf8OrLatin1 (std::string_view bytes)
{
    if (time::isUtf8 (bytes))
        return std::string (bytes);
    std::string text;
    for (const char c : bytes)
    {
        const auto byte = static_cast<unsigned char> (c);
        if (byte < 0x80)
            text += c;
        else
        {
            text += static_cast<char> (0xC0 | (byte >> 6));
            text += static_cast<char> (0x80 | (byte & 0x3F));
        }
    }
    return text;
}

std::vector<std::string> linesOf (std::string_view bytes)
{
    if (time::startsWith (bytes, "\xEF\xBB\xBF"))
        bytes.remove_prefix (3);
    const std::string text = fromUtf8OrLatin1 (bytes);
    std::vector<std::string> lines;
    for (std::size_t at = 0;;)
    {
        const auto end = text.find_first_of ("\r\n", at);
        lines.push_back (text.substr (at, end - at));
        if (end == std::string::npos)
            return lines;
        at = end + (text.compare (end, 2, "\r\n") == 0 ? 2 : 1);
    }
}

std::size_t lettersIn (std::string_view text)
{
    std::size_t count = 0;
    for (; ! text.empty(); ++count)
        nextCode (text);
    return count;
}
} // namespace shutterbeat::exchange
