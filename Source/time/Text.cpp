#include "time/Text.h"

#include <charconv>

namespace shutterbeat::time
{
std::optional<std::int64_t> parseWhole (std::string_view text)
{
    const bool negative = ! text.empty() && text[0] == '-';
    const auto digits = text.substr (negative ? 1 : 0);
    if (digits.empty() || digits.size() > 18 || digits[0] < '0' || digits[0] > '9')
        return {};
    std::int64_t value = 0;
    const auto [end, error] = std::from_chars (digits.data(), digits.data() + digits.size(), value);
    if (error != std::errc() || end != digits.data() + digits.size())
        return {};
    return negative ? -value : value;
}

std::string padded (std::int64_t number, int width)
{
    const bool negative = number < 0;
    std::string digits = std::to_string (number);
    if (negative)
        digits.erase (0, 1);
    if (static_cast<int> (digits.size()) < width)
        digits.insert (0, static_cast<std::size_t> (width) - digits.size(), '0');
    return negative ? "-" + digits : digits;
}

std::string_view trimmed (std::string_view text)
{
    constexpr std::string_view blank = " \t\r\n";
    const auto first = text.find_first_not_of (blank);
    if (first == std::string_view::npos)
        return {};
    return text.substr (first, text.find_last_not_of (blank) - first + 1);
}

std::vector<std::string_view> splitAt (std::string_view text, char separator)
{
    std::vector<std::string_view> pieces;
    for (;;)
    {
        const auto at = text.find (separator);
        pieces.push_back (text.substr (0, at));
        if (at == std::string_view::npos)
            return pieces;
        text.remove_prefix (at + 1);
    }
}

bool startsWith (std::string_view text, std::string_view prefix)
{
    return text.substr (0, prefix.size()) == prefix;
}

bool endsWith (std::string_view text, std::string_view suffix)
{
    return text.size() >= suffix.size() && text.substr (text.size() - suffix.size()) == suffix;
}

std::string lowerAscii (std::string_view text)
{
    std::string lower (text);
    for (char& c : lower)
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char> (c - 'A' + 'a');
    return lower;
}

bool isUtf8 (std::string_view text)
{
    for (std::size_t i = 0; i < text.size();)
    {
        const auto lead = static_cast<unsigned char> (text[i]);
        int more = 0;
        std::uint32_t code = 0, least = 0;
        if (lead < 0x80)
        {
            ++i;
            continue;
        }
        if ((lead & 0xE0) == 0xC0)
            more = 1, code = lead & 0x1Fu, least = 0x80;
        else if ((lead & 0xF0) == 0xE0)
            more = 2, code = lead & 0x0Fu, least = 0x800;
        else if ((lead & 0xF8) == 0xF0)
            more = 3, code = lead & 0x07u, least = 0x10000;
        else
            return false;
        if (i + static_cast<std::size_t> (more) >= text.size())
            return false;
        for (int k = 1; k <= more; ++k)
        {
            const auto next = static_cast<unsigned char> (text[i + static_cast<std::size_t> (k)]);
            if ((next & 0xC0) != 0x80)
                return false;
            code = (code << 6) | (next & 0x3Fu);
        }
        if (code < least || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF))
            return false;
        i += static_cast<std::size_t> (more) + 1;
    }
    return true;
}
} // namespace shutterbeat::time
