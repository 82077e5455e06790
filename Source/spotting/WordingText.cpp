#include "spotting/WordingText.h"

#include <algorithm>
#include <numeric>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
namespace
{
bool isBlank (char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

bool isSmallLetter (const std::string& text, std::size_t at)
{
    const auto byte = static_cast<unsigned char> (text[at]);
    // Small letters beyond ASCII: U+00DF to U+00FF; others are taken as small, for a divided word goes on so.
    if (byte == 0xC3 && at + 1 < text.size())
        return static_cast<unsigned char> (text[at + 1]) >= 0x9F;
    return (byte >= 'a' && byte <= 'z') || byte >= 0xC4;
}

/// Letters and digits of a word: ASCII ones, and every character beyond Latin punctuation and U+2000 to U+2BFF.
int lettersIn (const std::string& word)
{
    int letters = 0;
    for (const char c : word)
    {
        const auto byte = static_cast<unsigned char> (c);
        const bool ascii = (byte >= '0' && byte <= '9') || (byte >= 'A' && byte <= 'Z') || (byte >= 'a' && byte <= 'z');
        // Lead bytes only; C2 leads the Latin-1 signs, E2 quotes, dashes, arrows and symbols.
        letters += ascii || (byte >= 0xC3 && byte != 0xE2) ? 1 : 0;
    }
    return letters;
}

/// Code points, each as the bytes it is written in; bad UTF-8 gives odd pieces, which compare all the same.
std::vector<std::string> pointsOf (const std::string& wording)
{
    std::vector<std::string> points;
    for (const char c : onOneLine (wording))
        if ((static_cast<unsigned char> (c) & 0xC0U) == 0x80U && ! points.empty())
            points.back() += c;
        else
            points.emplace_back (1, c);
    return points;
}

std::vector<std::string> wordsOf (const std::string& wording)
{
    std::vector<std::string> words;
    std::string word;
    for (const char c : onOneLine (wording) + " ")
        if (c != ' ')
            word += c;
        else
        {
            if (lettersIn (word) > 0)
                words.push_back (word);
            word.clear();
        }
    return words;
}
} // namespace

std::string onOneLine (const std::string& wording)
{
    std::string line;
    for (std::size_t i = 0; i < wording.size();)
    {
        if (! isBlank (wording[i]))
        {
            line += wording[i++];
            continue;
        }
        bool ended = false;
        while (i < wording.size() && isBlank (wording[i]))
            ended = wording[i++] == '\n' || ended;
        if (i == wording.size())
            break;
        const bool divided =
            ended && line.size() > 1 && line.back() == '-' && isSmallLetter (line, line.size() - 2) && isSmallLetter (wording, i);
        if (divided)
            line.pop_back();
        else if (! line.empty())
            line += ' ';
    }
    return line;
}

int wordsIn (const std::string& wording)
{
    return static_cast<int> (wordsOf (wording).size());
}

int charactersIn (const std::string& wording)
{
    return static_cast<int> (pointsOf (wording).size());
}

int countedWords (const std::string& wording)
{
    constexpr int smallLetters = 3;
    int small = 0;
    int large = 0;
    for (const auto& word : wordsOf (wording))
        ++(lettersIn (word) <= smallLetters ? small : large);
    return large + (small + 1) / 2;
}
int charactersApart (const std::string& a, const std::string& b)
{
    const auto from = pointsOf (a);
    const auto to = pointsOf (b);
    std::vector<int> row (to.size() + 1);
    std::iota (row.begin(), row.end(), 0);
    for (std::size_t i = 0; i < from.size(); ++i)
    {
        int corner = row[0];
        row[0] = static_cast<int> (i) + 1;
        for (std::size_t k = 0; k < to.size(); ++k)
        {
            const int changed = corner + (from[i] == to[k] ? 0 : 1);
            corner = row[k + 1];
            row[k + 1] = std::min ({ changed, row[k] + 1, corner + 1 });
        }
    }
    return row.back();
}

double likeness (const std::string& a, const std::string& b)
{
    const int longer = std::max (charactersIn (a), charactersIn (b));
    return longer == 0 ? 1 : 1 - static_cast<double> (charactersApart (a, b)) / longer;
}
} // namespace shutterbeat::spotting
