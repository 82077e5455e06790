#pragma once

#include <string>

namespace shutterbeat::spotting
{
/// A card's wording on one line: lines joined by a blank, a word that was divided at the end of one made whole ("hoar-",
/// "der"). Several blanks become one.
std::string onOneLine (const std::string& wording);

/// How many words a wording has: runs of letters, digits and what stands between them without a blank. A mark alone ("–") is
/// no word; a word divided between two lines is one.
int wordsIn (const std::string& wording);

/// Characters to be read, UTF-8 code points with the blanks between words.
int charactersIn (const std::string& wording);

/// Words as the rule of a foot a word counts them: two small words are one (Sargent 1916, p. 148: "The Curse of Gold" is
/// three). Small is up to three letters, which the source does not say.
int countedWords (const std::string& wording);

/// The fewest characters that have to be put in, taken out or changed to make one wording of the other (Levenshtein 1965),
/// both on one line.
int charactersApart (const std::string& a, const std::string& b);

/// 1 for the same wording, 0 for ones with nothing in common: 1 less charactersApart over the length of the longer.
double likeness (const std::string& a, const std::string& b);
} // namespace shutterbeat::spotting
