#include "Catch.h"

#include "../reading/DrawnCard.h"
#include "Drawn.h"
#include "Shrink.h"

#include "scan/FlashTitles.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
using TitlePictures = std::vector<film::GreyPicture>;

film::GreyPicture card (bool darkOnLight)
{
    CardLook look;
    if (darkOnLight)
    {
        look.ink = 0.12;
        look.ground = 0.8;
        look.sheet = 0.8;
    }
    return shrunk (drawnCard ("Three weeks later the kite had still not come down.", look), scan::scanWidth, scan::scanHeight);
}

/// A scene of 60 pictures, a card of `frames`, and a scene of 60 (the same one or another); grain and flicker over all of it.
TitlePictures filmWith (const film::GreyPicture& title, int frames, bool comesBack, std::uint64_t seed)
{
    Dice dice (seed);
    const Scene before (seed);
    const Scene after (comesBack ? seed : seed + 1000);
    TitlePictures pictures;
    for (int i = 0; i < 60; ++i)
        pictures.push_back (worn (before.picture (i * 0.4, 0), 0.9 + 0.2 * dice.even(), 6, dice));
    for (int i = 0; i < frames; ++i)
        pictures.push_back (worn (title, 0.9 + 0.2 * dice.even(), 6, dice));
    for (int i = 0; i < 60; ++i)
        pictures.push_back (worn (after.picture (i * 0.4 + (comesBack ? 24 : 0), 0), 0.9 + 0.2 * dice.even(), 6, dice));
    return pictures;
}

/// The cards of a film as pairs of first and end.
std::vector<std::pair<std::int64_t, std::int64_t>> cardsOf (const TitlePictures& pictures)
{
    std::vector<std::pair<std::int64_t, std::int64_t>> cards;
    for (const auto& shot : scan::shots (measure (pictures)).shots)
        if (shot.kind == film::ShotKind::card)
            cards.emplace_back (shot.firstFile, shot.endFile);
    return cards;
}
} // namespace

TEST_CASE ("A title of one to four pictures is a shot of its own, and a card")
{
    using Cards = std::vector<std::pair<std::int64_t, std::int64_t>>;
    for (const bool dark : { false, true })
        for (const bool comesBack : { false, true })
            for (int frames = 1; frames <= 4; ++frames)
                for (std::uint64_t seed = 1; seed <= 3; ++seed)
                {
                    INFO (frames << " pictures, " << (dark ? "dark on light, " : "")
                                 << (comesBack ? "same scene after it" : "another scene") << ", seed " << seed);
                    CHECK (cardsOf (filmWith (card (dark), frames, comesBack, seed)) == Cards{ { 60, 60 + frames } });
                }
}

TEST_CASE ("A flash title in a padded file has its whole film frames")
{
    // 18 film frames a second at 25: seven file frames to five film frames.
    const auto film = filmWith (card (false), 2, false, 5);
    TitlePictures file;
    std::int64_t first = -1, end = -1;
    for (std::int64_t j = 0;; ++j)
    {
        const auto k = static_cast<std::size_t> (j * 18 / 25);
        if (k >= film.size())
            break;
        if (k == 60 && first < 0)
            first = j;
        if (k == 62 && end < 0)
            end = j;
        file.push_back (film[k]);
    }
    const auto cards = cardsOf (file);
    REQUIRE (cards.size() == 1);
    CHECK (cards[0].first == first);
    CHECK (cards[0].second == end);
}

TEST_CASE ("Flashes, black and other pictures between are no titles")
{
    for (std::uint64_t seed = 1; seed <= 4; ++seed)
        for (int frames = 1; frames <= 4; ++frames)
            for (const auto& between : { flat (250), flat (3), flat (120), Scene (seed + 77).picture (0, 0) })
            {
                INFO (frames << " pictures, seed " << seed);
                CHECK (scan::flashTitles (measure (filmWith (between, frames, true, seed))).empty());
            }
    // A card that stands is a card already.
    CHECK (scan::flashTitles (measure (filmWith (card (false), 40, false, 3))).empty());
}
