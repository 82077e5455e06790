#include "desk/RenderBench.h"

#include "desk/RenderReadout.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;
using film::ShotKind;
using time::Rational;

namespace
{
/// DESIGN 2 worked out the long way: the last picture with T <= j/R, by going through all of them. -1: nothing numbered.
struct LongWay
{
    std::vector<Rational> starts;
    std::vector<std::int64_t> shows;
    Rational end;

    void photographed (std::int64_t first, std::int64_t last, const Rational& speed)
    {
        for (auto k = first; k < last; ++k, end += Rational (1) / speed)
            add (k);
    }
    void made (const Rational& seconds)
    {
        add (-1);
        end += seconds;
    }
    [[nodiscard]] std::int64_t at (std::int64_t delivered, const Rational& rate) const
    {
        std::int64_t found = -2;
        for (std::size_t i = 0; i < starts.size() && starts[i] <= Rational (delivered) / rate; ++i)
            found = shows[i];
        return found;
    }

private:
    void add (std::int64_t shown)
    {
        starts.push_back (end);
        shows.push_back (shown);
    }
};

/// Every frame of the movie shows the number it has to, and is the very picture of that film frame.
void checkEveryFrame (const std::string& movie, const std::string& film, const LongWay& truth, const Rational& counting,
                      std::int64_t frames, const std::vector<std::int64_t>& fileFrames = {})
{
    const auto source = inOrder (film);
    const auto shown = inOrder (movie);
    REQUIRE (static_cast<std::int64_t> (shown.size()) == frames);
    std::string wrong;
    std::int64_t numbered = 0;
    for (std::int64_t j = 0; j < frames; ++j)
    {
        const auto expected = truth.at (j, counting);
        const auto& seen = shown[static_cast<std::size_t> (j)];
        if (expected < 0)
            continue;
        ++numbered;
        const auto file = fileFrames.empty() ? expected : fileFrames[static_cast<std::size_t> (expected)];
        if (seen.number != file || seen.hash != source[static_cast<std::size_t> (file)].hash)
            wrong += std::to_string (j) + " shows " + std::to_string (seen.number) + " not " + std::to_string (file) + "; ";
    }
    CHECK (wrong == "");
    CHECK (numbered > frames / 3);
}
} // namespace

TEST_CASE ("WORKED C rendered: every frame at changing speeds and over a made card, at 24, 25 and frame for frame")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 303);
    LongWay truth;
    truth.photographed (0, 101, 18);
    truth.made (Rational (124, 25));
    truth.photographed (101, 202, 20);
    truth.photographed (202, 303, 22);
    struct Row
    {
        const char* rate;
        const char* fill;
        Rational counting;
        std::int64_t frames;
    };
    for (const auto& row : { Row{ "24", "true", 24, 486 }, Row{ "25", "true", 25, 506 }, Row{ "25", "from:24", 24, 486 },
                             Row{ "23.976", "from:24", 24, 486 } })
    {
        INFO (row.rate << " " << row.fill);
        const auto open = bookOf (folder, film,
                                  { filmShot ("a", 0, 101, 18), madeShot ("card", Rational (124, 25), ShotKind::black),
                                    filmShot ("b", 101, 202, 20), filmShot ("c", 202, 303, 22) },
                                  row.rate, row.fill);
        const auto movie = folder.path ("movie.mp4");
        const auto made = rendered (open, movie, plainWish());
        CHECK (made.frames == row.frames);
        checkEveryFrame (movie, film, truth, row.counting, row.frames);
        const auto info = media::openFilm (movie);
        REQUIRE (info);
        CHECK (info->rate == made.rate.perSecond);
        CHECK_FALSE (info->variableRate);
    }
}

TEST_CASE ("WORKED D rendered: above the final rate film frames are left out, delivered 9 shows film frame 10")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 120);
    const auto open = bookOf (folder, film, { filmShot ("a", 0, 120, Rational (80, 3)) });
    const auto movie = folder.path ("movie.mp4");
    const auto made = rendered (open, movie, plainWish());
    CHECK (made.frames == 108);
    LongWay truth;
    truth.photographed (0, 120, Rational (80, 3));
    checkEveryFrame (movie, film, truth, 24, 108);
    CHECK (inOrder (movie)[9].number == 10);
}

TEST_CASE ("Shots out of order, used twice and running at other speeds, at a rate of many repeats")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 100);
    const auto open = bookOf (folder, film,
                              { filmShot ("a", 60, 80, 16), filmShot ("b", 3, 10, Rational (200, 11)), filmShot ("c", 60, 80, 24),
                                filmShot ("d", 99, 100, 5), filmShot ("e", 30, 31, 24) },
                              "59.94");
    LongWay truth;
    truth.photographed (60, 80, 16);
    truth.photographed (3, 10, Rational (200, 11));
    truth.photographed (60, 80, 24);
    truth.photographed (99, 100, 5);
    truth.photographed (30, 31, 24);
    const auto movie = folder.path ("movie.mov");
    const auto made = rendered (open, movie, plainWish());
    // The usual fill was not asked for: true at 60000/1001.
    checkEveryFrame (movie, film, truth, Rational (60000, 1001), made.frames);
}

TEST_CASE ("Behind a cadence of repeats a film frame's own file frame is shown")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 100);
    std::vector<std::int64_t> starts;
    for (std::int64_t k = 0; k < 80; ++k)
        starts.push_back ((k * 25 + 19) / 20);
    const auto cadence = film::Cadence::fromStarts (starts, 100);
    REQUIRE (cadence);
    const auto open = bookOf (folder, film, { filmShot ("a", 0, 80, 20) }, "24", "true", *cadence);
    const auto movie = folder.path ("movie.mp4");
    const auto made = rendered (open, movie, plainWish());
    CHECK (made.frames == 96);
    LongWay truth;
    truth.photographed (0, 80, 20);
    checkEveryFrame (movie, film, truth, 24, 96, starts);
}

TEST_CASE ("A made freeze holds the picture before it, a made card shows its wording, a made black nothing")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 60);
    const auto open =
        bookOf (folder, film,
                { filmShot ("a", 0, 20, 24), madeShot ("still", 1, ShotKind::shot), madeShot ("card", 1, ShotKind::card, "The End"),
                  madeShot ("gap", 1, ShotKind::black), filmShot ("b", 20, 44, 24) });
    const auto movie = folder.path ("movie.mp4");
    CHECK (rendered (open, movie, plainWish()).frames == 116);
    const auto shown = inOrder (movie);
    CHECK (shown[20].number == 19);
    CHECK (shown[43].hash == shown[19].hash);
    auto reader = media::FrameReader::open (movie);
    REQUIRE (reader);
    const auto brightest = [&] (std::int64_t k)
    {
        const auto picture = (*reader)->greyFrame (k, filmWidth, filmHeight);
        REQUIRE (picture);
        return *std::max_element (picture->pixels.begin(), picture->pixels.end());
    };
    CHECK (brightest (44) > 150);
    CHECK (shown[44].hash == shown[67].hash);
    CHECK (brightest (68) <= 16);
    CHECK (brightest (91) <= 16);
    CHECK (shown[92].number == 20);
}

TEST_CASE ("The overlay beside the picture leaves every pixel of it as it is")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 60);
    auto open = bookOf (folder, film, { filmShot ("a", 0, 60, 18) }, "25");
    open.book.hits = std::vector<spotting::HitPoint>{ hitOn ("anna-1", 30) };
    auto wish = plainWish();
    wish.size = { 640, 360 };
    wish.receiver = "Copy for the pianist";
    const auto bare = folder.path ("bare.mp4"), dressed = folder.path ("dressed.mp4");
    rendered (open, bare, wish);
    wish.overlay = true;
    CHECK (rendered (open, dressed, wish).besidePicture);
    auto plain = media::FrameReader::open (bare), drawn = media::FrameReader::open (dressed);
    REQUIRE (plain);
    REQUIRE (drawn);
    std::string wrong;
    std::set<std::string> bars;
    for (std::int64_t j = 0; j < (*plain)->info().frames; ++j)
    {
        const auto a = (*plain)->greyFrame (j, 640, 360), b = (*drawn)->greyFrame (j, 640, 360);
        REQUIRE (a);
        REQUIRE (b);
        std::string left;
        for (int y = 0; y < 360; ++y)
            for (int x = 0; x < 640; ++x)
                if (x >= 80 && x < 560)
                    wrong += a->at (x, y) != b->at (x, y) && wrong.size() < 200 ? std::to_string (j) + " " : "";
                else if (x < 80)
                    left += static_cast<char> (b->at (x, y));
        bars.insert (left);
    }
    CHECK (wrong == "");
    // The timecode is another on every frame, and so is its bar.
    CHECK (static_cast<std::int64_t> (bars.size()) == (*plain)->info().frames);
}

TEST_CASE ("A punch begins on the delivered frame of its hit, a streamer arrives there")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 120);
    for (const std::string rate : { "24", "50" })
    {
        auto open = bookOf (folder, film, { filmShot ("a", 0, 120, 18) }, rate);
        open.book.hits = std::vector<spotting::HitPoint>{ hitOn ("anna-1", 70), hitOn ("anna-2", 20, spotting::Weight::may) };
        const auto bare = folder.path ("bare.mp4"), marked = folder.path ("marked.mp4");
        auto wish = plainWish();
        rendered (open, bare, wish);
        wish.marks.streamer = 2;
        wish.marks.punches = true;
        const auto refused = desk::renderReel (open, marked, wish);
        REQUIRE_FALSE (refused);
        CHECK (refused.error().message.find ("caution") != std::string::npos);
        wish.marks.cautionRead = true;
        // Hits can be chosen, whatever their weight; one that is not there is named.
        auto chosen = wish;
        chosen.marks.hits = { "anna-2" };
        const auto only = desk::hitMarks (*spotting::timesOf (open.book), 0, chosen.marks);
        REQUIRE (only.size() == 1);
        CHECK (only[0].delivered == (rate == "24" ? 27 : 56));
        chosen.marks.hits.push_back ("anna-9");
        const auto unknown = desk::renderReel (open, marked, chosen);
        REQUIRE_FALSE (unknown);
        CHECK (unknown.error().text().find ("anna-9") != std::string::npos);
        rendered (open, marked, wish);

        // Film frame 70 at 18 a second: ceil (70/18 * R).
        const std::int64_t hit = rate == "24" ? 94 : 195, punch = rate == "24" ? 2 : 4, streamer = rate == "24" ? 48 : 100;
        auto plain = media::FrameReader::open (bare), drawn = media::FrameReader::open (marked);
        REQUIRE (plain);
        REQUIRE (drawn);
        std::vector<std::int64_t> punched, streamed;
        int lastX = -1;
        for (std::int64_t j = 0; j < (*plain)->info().frames; ++j)
        {
            const auto a = (*plain)->greyFrame (j, filmWidth, filmHeight), b = (*drawn)->greyFrame (j, filmWidth, filmHeight);
            REQUIRE (a);
            REQUIRE (b);
            if (b->at (80, 60) > 212) // the film's own pictures go up to 203
                punched.push_back (j);
            // The line is all that differs on the lowest rows but one.
            int x = -1;
            for (int at = 0; at < filmWidth; ++at)
                if (a->at (at, 100) != b->at (at, 100))
                    x = at;
            if (x >= 0)
            {
                streamed.push_back (j);
                CHECK (x >= lastX);
                lastX = x;
            }
        }
        INFO (rate);
        REQUIRE_FALSE (punched.empty());
        CHECK (punched.front() == hit);
        CHECK (static_cast<std::int64_t> (punched.size()) == punch);
        REQUIRE_FALSE (streamed.empty());
        CHECK (streamed.front() == hit - streamer);
        CHECK (streamed.back() == hit);
        CHECK (lastX >= filmWidth - 2);
    }
}
