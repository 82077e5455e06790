#pragma once

#include "time/Rational.h"

#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::spotting
{
/// Rules for how long a card has to stand (handbook 9).
enum class ReadingRule
{
    footAWord,       ///< the period's: a foot to the word, two small words as one, three feet at least (Sargent 1916, p. 148)
    aloudTwice,      ///< long enough to be read aloud twice (common practice), at 150 words a minute (common, no source)
    wordsAMinute160, ///< modern: no faster than 160 words a minute
    wordsAMinute180  ///< modern: no faster than 180 words a minute
};

/// All of them, in that order.
const std::vector<ReadingRule>& readingRules();

/// "a foot a word", "read aloud twice", "160 words a minute", "180 words a minute".
std::string_view readingRuleName (ReadingRule rule);

/// Seconds the wording needs by that rule at a running speed in film frames a second (of 35 mm, 16 frames a foot, which is
/// what the rule of feet speaks of; the others do not hang on the speed). 0 for a wording without words.
time::Rational secondsNeeded (ReadingRule rule, const std::string& wording, const time::Rational& speed);

/// Feet of 35 mm that a foot a word asks for: whole ones.
int feetNeeded (const std::string& wording);
} // namespace shutterbeat::spotting
