#pragma once

#include <concepts>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

namespace shutterbeat::time
{
/// The whole of `text` as a decimal integer of at most 18 digits, with an optional minus; else nothing.
/// Never looks at the locale.
std::optional<std::int64_t> parseWhole (std::string_view text);

/// At least `width` digits, padded with zeros: (7, 2) is "07". Negative numbers get their sign in front.
std::string padded (std::int64_t number, int width);

/// Without blanks, tabs and line ends at both ends.
std::string_view trimmed (std::string_view text);

/// Pieces between `separator`; n separators always give n + 1 pieces.
std::vector<std::string_view> splitAt (std::string_view text, char separator);

bool startsWith (std::string_view text, std::string_view prefix);
bool endsWith (std::string_view text, std::string_view suffix);

/// Never of a string that ends with its expression: what these give lies in the text they were given, and would outlive it.
template <class Text>
requires std::same_as<std::remove_const_t<Text>, std::string> std::string_view trimmed (Text&&)
= delete;
template <class Text>
requires std::same_as<std::remove_const_t<Text>, std::string> std::vector<std::string_view> splitAt (Text&&, char)
= delete;

/// A to Z made small; every other byte kept.
std::string lowerAscii (std::string_view text);

/// True when the bytes are well-formed UTF-8 (RFC 3629: no surrogates, no overlong forms).
bool isUtf8 (std::string_view text);
} // namespace shutterbeat::time
