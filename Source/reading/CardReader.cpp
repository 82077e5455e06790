#include "reading/CardReader.h"

#include "reading/CardInk.h"
#include "reading/ReadLines.h"

#include <tesseract/baseapi.h>

#include <algorithm>

namespace shutterbeat::reading
{
namespace
{
/// Tesseract tells its troubles on standard error; ours go through Result.
void silence (tesseract::TessBaseAPI& api)
{
    api.SetVariable ("debug_file", "/dev/null");
}

std::vector<std::string> split (const std::string& text)
{
    std::vector<std::string> parts;
    std::string part;
    for (const char c : text + "+")
        if (c != '+')
            part += c;
        else if (! part.empty())
        {
            parts.push_back (part);
            part.clear();
        }
    return parts;
}

std::string joined (const std::vector<std::string>& parts, const std::string& between)
{
    std::string all;
    for (const auto& part : parts)
        all += (all.empty() ? "" : between) + part;
    return all;
}

/// Debian names a package after the language, with hyphens.
std::string packageOf (std::string language)
{
    std::replace (language.begin(), language.end(), '_', '-');
    std::transform (language.begin(), language.end(), language.begin(),
                    [] (char c) { return c >= 'A' && c <= 'Z' ? static_cast<char> (c + 32) : c; });
    return "tesseract-ocr-" + language;
}

bool isName (const std::string& language)
{
    return ! language.empty()
           && std::all_of (language.begin(), language.end(),
                           [] (char c)
                           { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_'; });
}
} // namespace

std::vector<std::string> installedLanguages()
{
    tesseract::TessBaseAPI api;
    silence (api);
    // Fails, but knows then where the data lies and what there is.
    api.Init (nullptr, "none", tesseract::OEM_LSTM_ONLY);
    std::vector<std::string> languages;
    api.GetAvailableLanguagesAsVector (&languages);
    // Orientation and equations are no languages, nor are whole scripts in folders of their own.
    std::erase_if (languages, [] (const std::string& name) { return name == "osd" || name == "equ" || ! isName (name); });
    std::sort (languages.begin(), languages.end());
    return languages;
}

struct CardReader::State
{
    tesseract::TessBaseAPI api;
    std::string languages;

    std::vector<SeenWord> seen (const film::GreyPicture& picture, tesseract::PageSegMode mode)
    {
        api.SetPageSegMode (mode);
        api.SetImage (picture.pixels.data(), picture.width, picture.height, 1, picture.width);
        std::vector<SeenWord> words;
        if (api.Recognize (nullptr) == 0)
            if (const std::unique_ptr<tesseract::ResultIterator> at (api.GetIterator()); at)
                do
                {
                    const std::unique_ptr<const char[]> text (at->GetUTF8Text (tesseract::RIL_WORD));
                    SeenWord word;
                    if (! text || ! at->BoundingBox (tesseract::RIL_WORD, &word.left, &word.top, &word.right, &word.bottom))
                        continue;
                    word.text = text.get();
                    word.confidence = at->Confidence (tesseract::RIL_WORD) / 100.0;
                    words.push_back (std::move (word));
                } while (at->Next (tesseract::RIL_WORD));
        api.Clear();
        return words;
    }
};

CardReader::CardReader (std::unique_ptr<State> opened)
    : state (std::move (opened))
{
}
CardReader::~CardReader() = default;
CardReader::CardReader (CardReader&&) noexcept = default;
CardReader& CardReader::operator= (CardReader&&) noexcept = default;

const std::string& CardReader::languages() const
{
    return state->languages;
}

Result<CardReader> CardReader::open (const std::string& languages)
{
    const auto installed = installedLanguages();
    auto wanted = split (languages);
    if (installed.empty())
        return unreadable ("card wordings", "Tesseract has no data to read with; install "
                                                + packageOf (wanted.empty() ? "eng" : wanted.front())
                                                + " (or the package of the cards' language)");
    if (wanted.empty())
        wanted = installed;
    for (const auto& language : wanted)
    {
        if (! isName (language))
            return usageError ("language \"" + language + "\"", "write languages as Tesseract names them: dan, eng or dan+eng");
        if (std::find (installed.begin(), installed.end(), language) == installed.end())
            return unreadable ("language " + language, "Tesseract has no data for it; install " + packageOf (language)
                                                           + ". Installed: " + joined (installed, ", "));
    }
    auto state = std::make_unique<State>();
    state->languages = joined (wanted, "+");
    silence (state->api);
    if (state->api.Init (nullptr, state->languages.c_str(), tesseract::OEM_LSTM_ONLY) != 0)
        return unreadable ("languages " + state->languages,
                           "Tesseract can't load its data; reinstall " + packageOf (wanted.front()));
    // Pictures of films have no resolution in dots an inch; without one Tesseract guesses, and says so each time.
    state->api.SetVariable ("user_defined_dpi", "300");
    return CardReader (std::move (state));
}

Result<CardWording> CardReader::read (const film::GreyPicture& card)
{
    if (card.width < 1 || card.height < 1
        || card.pixels.size() != static_cast<std::size_t> (card.width) * static_cast<std::size_t> (card.height))
        return usageError ("card", "has not as many pixels as its size says");
    CardWording best;
    double bestScore = -1;
    const auto consider = [&] (const CardInk& ink, tesseract::PageSegMode mode)
    {
        std::vector<SeenWord> kept;
        CardWording wording = wordingOf (state->seen (ink.picture, mode), ink.letterHeight, kept);
        doubtUnread (wording, ink.picture, kept);
        wording.darkOnLight = ink.darkOnLight;
        if (const double score = scoreOf (wording); score > bestScore)
        {
            bestScore = score;
            best = std::move (wording);
        }
    };
    for (const CardInk& ink : inkOf (card))
        for (const auto mode : { tesseract::PSM_SINGLE_BLOCK, tesseract::PSM_AUTO })
            consider (ink, mode);
    // Other ways where that did not make sense: larger, for small letters beside large ones; as scattered words.
    constexpr double larger = 1.6;
    if (best.doubtful)
        for (const CardInk& ink : inkOf (card, larger))
            consider (ink, tesseract::PSM_SINGLE_BLOCK);
    if (best.doubtful)
        for (const CardInk& ink : inkOf (card))
            consider (ink, tesseract::PSM_SPARSE_TEXT);
    return best;
}
} // namespace shutterbeat::reading
