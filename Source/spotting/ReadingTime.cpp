#include "spotting/ReadingTime.h"

#include "spotting/WordingText.h"

#include <algorithm>

namespace shutterbeat::spotting
{
namespace
{
constexpr int leastFeet = 3;
constexpr int framesAFoot = 16; // 35 mm
constexpr int aloud = 150;      // words a minute
} // namespace

const std::vector<ReadingRule>& readingRules()
{
    static const std::vector<ReadingRule> all{ ReadingRule::footAWord, ReadingRule::aloudTwice, ReadingRule::wordsAMinute160,
                                               ReadingRule::wordsAMinute180 };
    return all;
}

std::string_view readingRuleName (ReadingRule rule)
{
    switch (rule)
    {
    case ReadingRule::footAWord:
        return "a foot a word";
    case ReadingRule::aloudTwice:
        return "read aloud twice";
    case ReadingRule::wordsAMinute160:
        return "160 words a minute";
    case ReadingRule::wordsAMinute180:
        break;
    }
    return "180 words a minute";
}

int feetNeeded (const std::string& wording)
{
    const int words = countedWords (wording);
    return words == 0 ? 0 : std::max (leastFeet, words);
}

time::Rational secondsNeeded (ReadingRule rule, const std::string& wording, const time::Rational& speed)
{
    const auto atRate = [&] (int wordsAMinute) { return time::Rational (wordsIn (wording)) * time::Rational (60, wordsAMinute); };
    switch (rule)
    {
    case ReadingRule::footAWord:
        return time::Rational (feetNeeded (wording) * framesAFoot) / speed;
    case ReadingRule::aloudTwice:
        return time::Rational (2) * atRate (aloud);
    case ReadingRule::wordsAMinute160:
        return atRate (160);
    case ReadingRule::wordsAMinute180:
        break;
    }
    return atRate (180);
}
} // namespace shutterbeat::spotting
