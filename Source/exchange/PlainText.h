#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::exchange
{
/// The text on one line: every run of line breaks, tabs and other control characters becomes one blank.
/// Includes the line breaks of Unicode (U+0085, U+2028, U+2029).
std::string oneLine (std::string_view text);

/// The text in plain ASCII: letters without their marks ("Stå" is "Sta", "Kø" is "Ko", "æ" is "ae"), straight quotes and
/// dashes, a question mark for what has no plain form. The text must be UTF-8.
std::string asciiOnly (std::string_view text);

/// Bytes of unknown encoding as UTF-8: kept when they are UTF-8, else each byte is a Latin-1 letter. Never fails.
std::string fromUtf8OrLatin1 (std::string_view bytes);

/// The lines of a text from outside: a byte order mark is left out, CR LF and CR alone end lines as LF does, and the text is
/// read as by fromUtf8OrLatin1().
std::vector<std::string> linesOf (std::string_view bytes);

/// Code points in UTF-8 text; other bytes count one each.
std::size_t lettersIn (std::string_view text);
} // namespace shutterbeat::exchange
