#include "film/FilmTime.h"

#include "Films.h"

#include <algorithm>

using namespace shutterbeat;
using namespace shutterbeat::film;
using namespace shutterbeat::tests;
using time::Int128;
using time::Rational;

namespace
{
/// A reel of photographed and made spans; speeds are the usual ones and odd ones.
std::vector<Span> someSpans()
{
    std::vector<Span> spans;
    const auto count = *rc::gen::inRange (1, 9);
    for (int i = 0; i < count; ++i)
    {
        if (*rc::gen::inRange (0, 4) == 0)
        {
            spans.push_back ({ 0, 0, Rational (*rc::gen::inRange (1, 400), *rc::gen::element (1, 7, 18, 24, 25, 1001, 997)) });
            continue;
        }
        const Rational speed = *rc::gen::element (Rational (16), Rational (18), Rational (200, 11), Rational (20),
                                                  Rational (240, 11), Rational (22), Rational (24), Rational (24000, 1001),
                                                  Rational (80, 3), Rational (1823, 97), Rational (611, 13), Rational (33, 2));
        // Often a shot of a frame or two, so that whole shots fall between two delivered frames.
        const int most = *rc::gen::element (3, 120);
        spans.push_back ({ *rc::gen::inRange (1, most), speed, 0 });
    }
    return spans;
}

Rational someRate()
{
    return *rc::gen::element (Rational (24000, 1001), Rational (24), Rational (25), Rational (30000, 1001), Rational (18),
                              Rational (12), Rational (60), Rational (200, 11), Rational (10, 7));
}

/// One picture of the reel in the order of projection, with its exact time: added up one by one.
struct Picture
{
    Rational start;
    std::size_t span;
    std::int64_t frameInSpan;
    bool made;
};

std::vector<Picture> oneByOne (const std::vector<Span>& spans, Rational& end)
{
    std::vector<Picture> all;
    Rational now (0);
    for (std::size_t s = 0; s < spans.size(); ++s)
    {
        if (spans[s].frames == 0)
        {
            all.push_back ({ now, s, 0, true });
            now += spans[s].made;
        }
        for (std::int64_t i = 0; i < spans[s].frames; ++i)
        {
            all.push_back ({ now, s, i, false });
            now += Rational (1) / spans[s].speed;
        }
    }
    end = now;
    return all;
}
} // namespace

TEST_CASE ("Film time agrees with pictures added up one by one (DESIGN 2)")
{
    CHECK_PROPERTY ("T(k), spans and length",
                    []
                    {
                        const auto spans = someSpans();
                        const auto film = FilmTime::of (spans);
                        RC_ASSERT (film.ok());
                        Rational end;
                        const auto pictures = oneByOne (spans, end);
                        RC_ASSERT (film->length() == end);
                        std::int64_t k = 0;
                        for (const auto& picture : pictures)
                        {
                            if (picture.frameInSpan == 0)
                            {
                                RC_ASSERT (film->spanStart (picture.span) == picture.start);
                                RC_ASSERT (film->spanFirst (picture.span) == k);
                            }
                            if (picture.made)
                                continue;
                            RC_ASSERT (film->at (k) == picture.start);
                            RC_ASSERT (film->spanOf (k) == picture.span);
                            ++k;
                        }
                        RC_ASSERT (film->frames() == k);
                        RC_ASSERT (film->at (k) == end);
                        RC_ASSERT (film->spanStart (spans.size()) == end);
                    });
    CHECK_PROPERTY ("what every delivered frame shows",
                    []
                    {
                        const auto spans = someSpans();
                        const auto film = FilmTime::of (spans);
                        RC_ASSERT (film.ok());
                        Rational end;
                        const auto pictures = oneByOne (spans, end);
                        const Rational rate = someRate();
                        std::size_t last = 0;
                        for (std::int64_t j = 0; Rational (j) / rate < end; ++j)
                        {
                            // The last picture whose time is not after j / R.
                            while (last + 1 < pictures.size() && pictures[last + 1].start <= Rational (j) / rate)
                                ++last;
                            const auto shown = film->shownAt (Rational (j) / rate);
                            RC_ASSERT (shown.span == pictures[last].span);
                            RC_ASSERT (shown.frameInSpan == pictures[last].frameInSpan);
                        }
                    });
    CHECK_PROPERTY ("first appearances rise, and show the picture or a later one",
                    []
                    {
                        const auto spans = someSpans();
                        const auto film = FilmTime::of (spans);
                        RC_ASSERT (film.ok());
                        const Rational rate = someRate();
                        std::int64_t before = 0;
                        for (std::int64_t k = 0; k < film->frames(); ++k)
                        {
                            const auto delivered = deliveredFrame (film->at (k), rate);
                            RC_ASSERT (delivered >= before);
                            before = delivered;
                            if (Rational (delivered) / rate >= film->length())
                                continue;
                            const auto shown = film->shownAt (Rational (delivered) / rate);
                            const bool photographed = spans[shown.span].frames > 0;
                            RC_ASSERT (film->spanFirst (shown.span) + (photographed ? shown.frameInSpan : 0) >= k);
                            // ... and the frame before it does not show it yet.
                            if (delivered > 0)
                                RC_ASSERT (Rational (delivered - 1) / rate < film->at (k));
                        }
                    });
}

TEST_CASE ("Timings agree with film time at every film frame and delivered frame")
{
    CHECK_PROPERTY ("film frames, shown or not",
                    []
                    {
                        const auto spans = someSpans();
                        std::vector<Shot> shots;
                        std::int64_t first = 0;
                        for (std::size_t i = 0; i < spans.size(); ++i)
                        {
                            const std::string id = "s" + std::to_string (i);
                            if (spans[i].frames == 0)
                                shots.push_back (made (id, spans[i].made));
                            else
                                shots.push_back (atSpeed (shot (id, first, first + spans[i].frames), spans[i].speed));
                            first += spans[i].frames;
                        }
                        Delivery d;
                        d.rate = { someRate(), false };
                        const auto t = Timings::of ({ print (10000) }, edition (shots), d);
                        RC_ASSERT (t.ok());
                        std::vector<bool> shown (static_cast<std::size_t> (first) + 1, false);
                        for (std::int64_t j = 0; j < t->deliveredLength(); ++j)
                        {
                            const auto picture = t->pictureAt (j);
                            RC_ASSERT (picture.ok());
                            if (! picture->made)
                                shown[static_cast<std::size_t> (picture->filmFrame)] = true;
                            const auto at = t->atDelivered (j);
                            RC_ASSERT (at.ok());
                            const auto back = t->times (*at);
                            // A made one takes the instant, a picture the first delivered frame that shows it.
                            RC_ASSERT ((picture->made ? back.delivered == j : back.delivered <= j));
                        }
                        RC_ASSERT (! t->pictureAt (t->deliveredLength()).ok());
                        for (std::int64_t k = 0; k < first; ++k)
                        {
                            const auto at = t->atFilmFrame (k);
                            RC_ASSERT (at.ok());
                            const auto times = t->times (*at);
                            RC_ASSERT (times.filmFrame == k);
                            RC_ASSERT (times.sourceFrame == k);
                            RC_ASSERT (times.notShown != shown[static_cast<std::size_t> (k)]);
                            RC_ASSERT (times.clock == Rational (times.delivered) / d.rate.perSecond);
                        }
                    });
}

TEST_CASE ("Rule A first appearances (handbook 3.2)")
{
    struct Row
    {
        Rational from;
        int to;
        std::int64_t at100, at1000, at10000;
    };
    for (const Row& row :
         { Row{ 16, 24, 150, 1500, 15000 }, Row{ 18, 24, 134, 1334, 13334 }, Row{ 20, 24, 120, 1200, 12000 },
           Row{ 22, 24, 110, 1091, 10910 }, Row{ 16, 25, 157, 1563, 15625 }, Row{ 18, 25, 139, 1389, 13889 },
           Row{ 24, 25, 105, 1042, 10417 }, Row{ 18, 30, 167, 1667, 16667 }, Row{ { 200, 11 }, 24, 132, 1320, 13200 } })
    {
        const auto film = oneSpeed (20000, row.from, std::to_string (row.to));
        CHECK (timesAt (film, 100).delivered == row.at100);
        CHECK (timesAt (film, 1000).delivered == row.at1000);
        CHECK (timesAt (film, 10000).delivered == row.at10000);
    }
    // Exact, unslowed conversions to the rates over 1001.
    for (const auto& [speed, rate, in, out] :
         { std::tuple{ 18, "29.97", 3003, 5000 }, std::tuple{ 24, "29.97", 1001, 1250 }, std::tuple{ 18, "23.976", 3003, 4000 } })
        CHECK (oneSpeed (in, Rational (speed), rate).deliveredLength() == out);
}

TEST_CASE ("Odd speeds whose exact times can't be held are reported with the shot to round (DESIGN 2)")
{
    // Speeds over ever new primes: the common denominator outgrows 128 bits.
    std::vector<Span> spans;
    std::vector<std::string> names;
    for (const int prime : { 10007, 10009, 10037, 10039, 10061, 10067, 10069, 10079, 10091, 10093, 10099, 10103 })
    {
        spans.push_back ({ 1, Rational (prime, 500), 0 });
        names.push_back ("K" + std::to_string (prime));
    }
    const auto film = FilmTime::of (spans, names);
    REQUIRE_FALSE (film);
    CHECK (film.error().code == ErrorCode::overflow);
    CHECK (film.error().where.find ("shot K100") == 0);
    CHECK (film.error().message.find ("running speed") != std::string::npos);
    CHECK (film.error().message.find ("round") != std::string::npos);

    // A speed that fits no frame but the last: the sum is whole, the frames between are not.
    const Int128 wide = (Int128{ 1 } << 89) - 1;
    const auto hidden = FilmTime::of ({ { 1, Rational (10007), 0 }, { 100, Rational (wide, (Int128{ 1 } << 85)), 0 } });
    REQUIRE_FALSE (hidden);
    CHECK (hidden.error().code == ErrorCode::overflow);
    CHECK (hidden.error().where == "shot 2");

    const auto card = FilmTime::of ({ { 1, 18, 0 }, { 0, 0, Rational (1, wide) } });
    REQUIRE_FALSE (card);
    CHECK (card.error().code == ErrorCode::overflow);
    CHECK (card.error().message.find ("made length") != std::string::npos);
}

TEST_CASE ("What fits is exact at every rate: speeds near the limit of room")
{
    // 63 bits of denominator once it meets 18, every film frame against its neighbours by exact comparison.
    const Rational odd (576460752303423433, 28823037615171171); // about 20
    const auto film = FilmTime::of ({ { 40, odd, 0 }, { 0, 0, Rational (1, 1) }, { 40, Rational (18), 0 } });
    if (! film)
        FAIL (film.error().text());
    for (const Rational& rate : { Rational (60000, 1001), Rational (24), Rational (999999937, 41666664) })
        for (std::int64_t k = 0; k < film->frames(); ++k)
        {
            const auto t = film->at (k);
            REQUIRE (t.valid());
            REQUIRE ((t * rate).valid());
            const auto j = deliveredFrame (t, rate);
            CHECK (Rational (j) / rate >= t);
            CHECK (Rational (j - 1) / rate < t);
            if (Rational (j) / rate < film->length())
            {
                const auto shown = film->shownAt (Rational (j) / rate);
                const auto frame = film->spanFirst (shown.span) + (shown.span == 1 ? 0 : shown.frameInSpan);
                CHECK (frame >= k);
                if (shown.span != 1 && frame + 1 < film->frames())
                    CHECK (film->at (frame) <= Rational (j) / rate);
            }
        }
}

TEST_CASE ("Speeds and lengths that can't be are refused")
{
    for (const Rational& speed : { Rational (0), Rational (-18) })
    {
        const auto film = FilmTime::of ({ { 10, speed, 0 } });
        REQUIRE_FALSE (film);
        CHECK (film.error().code == ErrorCode::usage);
        CHECK (film.error().message.find ("running speed") != std::string::npos);
    }
    for (const Rational& seconds : { Rational (0), Rational (-1) })
    {
        const auto film = FilmTime::of ({ { 0, 0, seconds } });
        REQUIRE_FALSE (film);
        CHECK (film.error().message.find ("made") != std::string::npos);
    }
    CHECK_FALSE (FilmTime::of ({ { 10, Rational (1, 0), 0 } }));
    CHECK_FALSE (FilmTime::of ({ { 0, 0, Rational (1, 0) } }));
    const auto endless = FilmTime::of ({ { 1000, Rational (1, 1000000), 0 } });
    REQUIRE_FALSE (endless);
    CHECK (endless.error().message.find ("ten million") != std::string::npos);
    const auto nothing = FilmTime::of ({});
    REQUIRE (nothing);
    CHECK (nothing->length() == Rational (0));
}
