#include "reading/ReadLines.h"

#include <algorithm>

namespace shutterbeat::reading
{
namespace
{
// Below this a reading is no better than a guess.
constexpr double guess = 0.5;
// A wording is doubtful when the words in it are less sure than this on the whole, or one of them less than that.
constexpr double sureOnTheWhole = 0.85;
constexpr double sureOfAWord = 0.6;
// So few letters may be anything: they have to be surer.
constexpr int fewLetters = 5;
constexpr double sureOfFew = 0.92;

/// UTF-8 letters and digits; ASCII marks, quotes and dashes are none. Characters beyond the quotes count as letters.
int lettersIn (const std::string& text)
{
    int letters = 0;
    for (std::size_t i = 0; i < text.size(); ++i)
    {
        const auto byte = static_cast<unsigned char> (text[i]);
        if ((byte >= '0' && byte <= '9') || (byte >= 'A' && byte <= 'Z') || (byte >= 'a' && byte <= 'z'))
            ++letters;
        // U+00C0 and up, but not general punctuation (E2 80 xx) and the like (E2 ..).
        else if (byte >= 0xC3 && byte != 0xE2)
            ++letters;
    }
    return letters;
}

/// Characters, not bytes.
int charactersIn (const std::string& text)
{
    return static_cast<int> (std::count_if (text.begin(), text.end(), [] (char c) { return (c & 0xC0) != 0x80; }));
}

/// What no card says but specks and threads are taken for, at the ends of a word.
std::string withoutSpecks (const std::string& text)
{
    constexpr const char* specks = "~|_`\\^";
    const auto first = text.find_first_not_of (specks);
    return first == std::string::npos ? "" : text.substr (first, text.find_last_not_of (specks) - first + 1);
}

struct Line
{
    std::vector<SeenWord> words;

    /// Whether a word stands beside these: at least half of the lower of the two heights is common.
    [[nodiscard]] bool isBeside (const SeenWord& word) const
    {
        int common = 0;
        int beside = 0;
        for (const auto& other : words)
        {
            const int lower = std::min (word.bottom - word.top, other.bottom - other.top);
            common += 2 * (std::min (word.bottom, other.bottom) - std::max (word.top, other.top)) >= lower ? 1 : 0;
            ++beside;
        }
        return 2 * common > beside;
    }

    [[nodiscard]] int letters() const
    {
        int sum = 0;
        for (const auto& word : words)
            sum += lettersIn (word.text);
        return sum;
    }
    [[nodiscard]] double confidence() const
    {
        double sum = 0;
        int characters = 0;
        for (const auto& word : words)
        {
            sum += word.confidence * charactersIn (word.text);
            characters += charactersIn (word.text);
        }
        return characters > 0 ? sum / characters : 0;
    }
};

/// Words at the ends of a line that are no words: an ornament beside it, a scratch.
void trim (Line& line, double letterHeight)
{
    const auto isNothing = [&] (const SeenWord& word)
    {
        const int height = word.bottom - word.top;
        const bool odd = height > 4 * letterHeight || word.confidence < 0.3;
        return lettersIn (word.text) == 0 ? word.confidence < guess : odd && lettersIn (word.text) < 3;
    };
    while (! line.words.empty() && isNothing (line.words.back()))
        line.words.pop_back();
    while (! line.words.empty() && isNothing (line.words.front()))
        line.words.erase (line.words.begin());
}
/// A digit or a capital letter that can stand alone on a card: 3, I, A.
bool isNumeral (const std::vector<SeenWord>& words)
{
    return std::any_of (words.begin(), words.end(),
                        [] (const SeenWord& word)
                        {
                            return std::any_of (word.text.begin(), word.text.end(),
                                                [] (char c) { return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z'); });
                        });
}

/// Whether a line is writing, and not what an ornament was taken for.
bool isWriting (const Line& line, const std::vector<Line>& all, double letterHeight)
{
    constexpr int few = 3;
    const int letters = line.letters();
    const double confidence = line.confidence();
    if (letters > few)
        return confidence >= 0.35;
    int others = 0;
    double gap = 1e9;
    for (const Line& other : all)
        if (&other != &line)
        {
            others += other.letters();
            if (other.letters() <= few)
                continue;
            for (const auto& word : other.words)
                for (const auto& own : line.words)
                    gap = std::min<double> (gap, std::max (word.top - own.bottom, own.top - word.bottom));
        }
    // A letter or two (or a mark) that stand well away from others, or a small one alone in its line.
    const bool apart = others >= 5 && gap > 2.2 * letterHeight;
    if (letters <= 1 && others >= 5 && (apart || (letters == 1 && ! isNumeral (line.words))))
        return false;
    // One mark alone may be all that a card says: "?"
    if (letters == 0)
        return confidence >= sureOnTheWhole;
    return confidence >= (apart ? 0.96 : 0.6);
}
} // namespace

CardWording wordingOf (const std::vector<SeenWord>& words, double letterHeight, std::vector<SeenWord>& kept)
{
    // Columns and widely spaced words come as lines of their own; on the card they stand beside one another.
    std::vector<Line> lines;
    for (SeenWord word : words)
    {
        if (const auto text = withoutSpecks (word.text); text.empty())
            continue;
        else if (text != word.text)
        {
            // What was read of the word itself was not seen apart; a mark more or less says little against it.
            word.text = text;
            word.confidence = std::max (word.confidence, sureOfAWord);
        }
        const auto row = std::find_if (lines.begin(), lines.end(), [&] (const Line& line) { return line.isBeside (word); });
        (row == lines.end() ? lines.emplace_back() : *row).words.push_back (word);
    }
    const auto middle = [] (const Line& line)
    {
        int sum = 0;
        for (const auto& word : line.words)
            sum += word.top + word.bottom;
        return sum / static_cast<int> (line.words.size());
    };
    std::stable_sort (lines.begin(), lines.end(), [&] (const Line& a, const Line& b) { return middle (a) < middle (b); });
    for (Line& line : lines)
        std::stable_sort (line.words.begin(), line.words.end(),
                          [] (const SeenWord& a, const SeenWord& b) { return a.left < b.left; });
    for (Line& line : lines)
        trim (line, letterHeight);
    std::erase_if (lines, [] (const Line& line) { return line.words.empty(); });
    std::vector<Line> writing;
    for (const Line& line : lines)
        if (isWriting (line, lines, letterHeight))
            writing.push_back (line);
    lines = std::move (writing);
    CardWording wording;
    double sum = 0;
    double least = 1;
    int characters = 0;
    int letters = 0;
    for (std::size_t i = 0; i < lines.size(); ++i)
        for (std::size_t k = 0; k < lines[i].words.size(); ++k)
        {
            const SeenWord& word = lines[i].words[k];
            if (! wording.text.empty())
                wording.text += k == 0 ? "\n" : " ";
            wording.text += word.text;
            kept.push_back (word);
            wording.words.push_back ({ word.text, word.confidence, static_cast<int> (i) });
            const int length = charactersIn (word.text);
            sum += word.confidence * length;
            characters += length;
            if (lettersIn (word.text) > 0)
                least = std::min (least, word.confidence);
            letters += lettersIn (word.text);
        }
    wording.confidence = characters > 0 ? std::clamp (sum / characters, 0.0, 1.0) : 0;
    wording.doubtful =
        wording.words.empty() || least < sureOfAWord || wording.confidence < (letters <= fewLetters ? sureOfFew : sureOnTheWhole);
    return wording;
}

void doubtUnread (CardWording& wording, const film::GreyPicture& ink, const std::vector<SeenWord>& kept)
{
    constexpr std::uint8_t dark = 128;
    constexpr double much = 0.35;
    std::vector<bool> read (ink.pixels.size());
    for (const SeenWord& word : kept)
        for (int y = std::max (0, word.top); y < std::min (ink.height, word.bottom); ++y)
            for (int x = std::max (0, word.left); x < std::min (ink.width, word.right); ++x)
                read[static_cast<std::size_t> (y) * static_cast<std::size_t> (ink.width) + static_cast<std::size_t> (x)] = true;
    std::size_t all = 0;
    std::size_t unread = 0;
    for (std::size_t i = 0; i < ink.pixels.size(); ++i)
        if (ink.pixels[i] < dark)
        {
            ++all;
            unread += read[i] ? 0U : 1U;
        }
    if (static_cast<double> (unread) > much * static_cast<double> (all))
        wording.doubtful = true;
}

double scoreOf (const CardWording& wording)
{
    double score = 0;
    for (const ReadWord& word : wording.words)
        score += (word.confidence - guess) * charactersIn (word.text);
    return score;
}
} // namespace shutterbeat::reading
