#pragma once

#include "film/GreyPicture.h"
#include "time/Result.h"

#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::reading
{
/// A word as it was read.
struct ReadWord
{
    std::string text;
    double confidence = 0; ///< 0 to 1
    int line = 0;          ///< from 0

    friend bool operator== (const ReadWord&, const ReadWord&) = default;
};

/// What a card says, as far as it could be read.
struct CardWording
{
    std::string text;         ///< its lines, one below the other; empty: nothing was read
    double confidence = 0;    ///< 0 to 1, of the words by their length
    bool doubtful = true;     ///< not sure enough to be taken without a look
    bool darkOnLight = false; ///< dark letters on a light sheet
    std::vector<ReadWord> words;
};

/// Languages that Tesseract has data for on this machine: "dan", "eng" ...; empty when it has none.
std::vector<std::string> installedLanguages();

/// Reads wordings of cards in some languages, one card after another. One thread at a time.
class CardReader
{
public:
    /// `languages` as "dan+eng"; empty: all that are installed. Error: no data for one of them; the message names the
    /// package to install.
    static Result<CardReader> open (const std::string& languages);
    ~CardReader();
    CardReader (CardReader&&) noexcept;
    CardReader& operator= (CardReader&&) noexcept;

    /// The languages it reads: "dan+eng".
    [[nodiscard]] const std::string& languages() const;

    /// Reads one card, upright, of any size (see stillOf for several pictures of one). Light letters on dark and dark ones on
    /// light are both tried. Error: pixels missing.
    Result<CardWording> read (const film::GreyPicture& card);

private:
    struct State;
    explicit CardReader (std::unique_ptr<State> opened);
    std::unique_ptr<State> state;
};
} // namespace shutterbeat::reading
