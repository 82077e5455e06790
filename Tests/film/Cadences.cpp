#include "film/Cadence.h"

#include "../time/Checks.h"
#include "film/FilmTime.h"
#include "film/Print.h"

#include <array>
#include <numeric>

using namespace shutterbeat;
using namespace shutterbeat::film;
using namespace shutterbeat::tests;

namespace
{
struct Row
{
    time::Rational from;
    int to;
    std::vector<int> repeats;
};

// Handbook 3.2, rule A: file frames of each film frame over one cycle.
std::vector<Row> ruleA()
{
    return { { 16, 24, { 2, 1 } },
             { 18, 24, { 2, 1, 1 } },
             { 20, 24, { 2, 1, 1, 1, 1 } },
             { { 200, 11 }, 24, { 2, 1, 1, 2, 1, 1, 2, 1, 1, 2, 1, 1, 2, 1, 1, 2, 1, 1, 2, 1, 1, 2, 1, 1, 1 } },
             { 16, 25, { 2, 2, 1, 2, 1, 2, 1, 2, 2, 1, 2, 1, 2, 1, 2, 1 } },
             { 18, 25, { 2, 1, 2, 1, 1, 2, 1, 2, 1, 1, 2, 1, 2, 1, 1, 2, 1, 1 } },
             { 20, 25, { 2, 1, 1, 1 } },
             { 18, 30, { 2, 2, 1 } },
             { 20, 60, { 3 } },
             { 18, 50, { 3, 3, 3, 3, 2, 3, 3, 3, 2 } } };
}

void asRuleA (const time::Rational& from, int to, const std::vector<int>& repeats)
{
    INFO (time::fractionText (from) << " to " << to);
    const auto films = static_cast<std::int64_t> (repeats.size()) * 7 + 3;
    const auto cadence = Cadence::fromRuns ({ { repeats, films } });
    REQUIRE (cadence);
    const auto film = FilmTime::of ({ { films, from, 0 } });
    REQUIRE (film);
    for (std::int64_t k = 0; k < films; ++k)
        CHECK (cadence->firstFileFrame (k) == deliveredFrame (film->at (k), time::Rational (to)));
    for (std::int64_t j = 0; j < cadence->fileFrames(); ++j)
    {
        const auto at = time::Rational (j, to);
        if (at < film->length())
            CHECK (cadence->filmFrameAt (j) == film->shownAt (at).frameInSpan);
    }
    const auto runs = cadence->runs();
    REQUIRE (runs.size() <= 2);
    ReelFile reel;
    reel.rate = time::Rational (to);
    reel.cadence = *cadence;
    const auto files = std::accumulate (repeats.begin(), repeats.end(), 0);
    if (static_cast<std::size_t> (files) != repeats.size())
        CHECK (measuredSpeed (reel) == from);
}

Cadence someCadence()
{
    // Stretches of one cycle, with odd frames between: what splices and missing frames leave.
    std::vector<CadenceRun> runs;
    const auto count = *rc::gen::inRange (1, 8);
    for (int i = 0; i < count; ++i)
    {
        const auto cycle = *rc::gen::container<std::vector<int>> (*rc::gen::inRange<std::size_t> (1, 26), rc::gen::inRange (1, 4));
        runs.push_back ({ cycle, *rc::gen::inRange (1, 200) });
    }
    const auto cadence = Cadence::fromRuns (runs);
    RC_ASSERT (cadence.ok());
    return *cadence;
}
} // namespace

TEST_CASE ("Regular cadences first appear as the exact rule says (handbook 3.2, rule A)")
{
    for (const auto& row : ruleA())
        asRuleA (row.from, row.to, row.repeats);
    const auto tables = handbookTables();
    if (tables.is_null())
        return;
    CHECK (tables["cadence"].size() > 20);
    for (const auto& [name, rules] : tables["cadence"].items())
    {
        const auto arrow = name.find ("->");
        const auto from = time::parseRational (name.substr (0, arrow));
        REQUIRE (from);
        asRuleA (*from, std::stoi (name.substr (arrow + 2)), rules["A"]);
    }
}

TEST_CASE ("A cadence and its runs are the same thing")
{
    CHECK_PROPERTY ("runs and back",
                    []
                    {
                        const auto cadence = someCadence();
                        const auto back = Cadence::fromRuns (cadence.runs());
                        RC_ASSERT (back.ok());
                        RC_ASSERT (*back == cadence);
                        std::vector<std::int64_t> starts;
                        for (std::int64_t k = 0; k < cadence.filmFrames(); ++k)
                            starts.push_back (cadence.firstFileFrame (k));
                        const auto same = Cadence::fromStarts (starts, cadence.fileFrames());
                        RC_ASSERT (same.ok());
                        RC_ASSERT (*same == cadence);
                    });
    CHECK_PROPERTY ("file frames and film frames agree",
                    []
                    {
                        const auto cadence = someCadence();
                        RC_ASSERT (cadence.firstFileFrame (0) == 0);
                        RC_ASSERT (cadence.firstFileFrame (cadence.filmFrames()) == cadence.fileFrames());
                        std::int64_t film = 0;
                        for (std::int64_t file = 0; file < cadence.fileFrames(); ++file)
                        {
                            if (file == cadence.firstFileFrame (film + 1))
                                ++film;
                            RC_ASSERT (cadence.filmFrameAt (file) == film);
                        }
                        RC_ASSERT (film + 1 == cadence.filmFrames());
                    });
    const auto regular = Cadence::fromRuns ({ { { 2, 1, 1, 1 }, 100000 } });
    REQUIRE (regular);
    CHECK (regular->runs() == std::vector<CadenceRun>{ { { 2, 1, 1, 1 }, 100000 } });
}

TEST_CASE ("One to one, and nothing at all")
{
    const auto plain = Cadence::oneToOne (250);
    CHECK (plain.isOneToOne());
    CHECK (plain.filmFrameAt (17) == 17);
    CHECK (plain.firstFileFrame (250) == 250);
    CHECK (plain.runs() == std::vector<CadenceRun>{ { { 1 }, 250 } });
    const auto same = Cadence::fromRuns ({ { { 1 }, 100 }, { { 1, 1 }, 150 } });
    REQUIRE (same);
    CHECK (*same == plain);
    CHECK (Cadence().filmFrames() == 0);
    CHECK (Cadence().runs().empty());
    const auto none = Cadence::fromRuns ({});
    REQUIRE (none);
    CHECK (*none == Cadence());
    ReelFile reel;
    reel.cadence = plain;
    CHECK_FALSE (measuredSpeed (reel));
}

TEST_CASE ("Cadences that can't be are refused")
{
    CHECK_FALSE (Cadence::fromStarts ({ 1, 2 }, 5));
    CHECK_FALSE (Cadence::fromStarts ({ 0, 2, 2 }, 5));
    CHECK_FALSE (Cadence::fromStarts ({ 0, 5 }, 5));
    CHECK_FALSE (Cadence::fromStarts ({}, 5));
    CHECK_FALSE (Cadence::fromStarts ({ 0 }, 0));
    CHECK (Cadence::fromStarts ({}, 0));
    CHECK_FALSE (Cadence::fromRuns ({ { {}, 5 } }));
    CHECK_FALSE (Cadence::fromRuns ({ { { 1 }, 0 } }));
    CHECK_FALSE (Cadence::fromRuns ({ { { 1 }, -3 } }));
    CHECK_FALSE (Cadence::fromRuns ({ { { 1, 0 }, 5 } }));
    CHECK_FALSE (Cadence::fromRuns ({ { { 2000000000 }, 1 } }));
    CHECK_FALSE (Cadence::fromRuns ({ { { 1 }, std::int64_t{ 1 } << 40 } }));
}

TEST_CASE ("A damaged cadence tells its speed by the regular body only")
{
    const auto cadence = Cadence::fromRuns ({ { { 1, 1, 2 }, 5 }, { { 2, 1, 1, 1 }, 4000 }, { { 1, 3 }, 2 } });
    REQUIRE (cadence);
    ReelFile reel;
    reel.rate = time::Rational (25);
    reel.cadence = *cadence;
    CHECK (measuredSpeed (reel) == time::Rational (20));
}
