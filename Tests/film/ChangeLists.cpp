#include "Films.h"
#include "film/ChangeList.h"

#include <rapidcheck.h>

using namespace shutterbeat;
using namespace shutterbeat::film;
using namespace shutterbeat::tests;

namespace
{
/// Handbook 11.1 (computed): old A0+48 B0+72 C0+24 D0+96 E0+60, new A0+48 B12+60 D0+96 C0+24 X0+36 E0+50.
/// Every shot has a thousand frames of the print for itself.
Edition oldCut()
{
    return edition (
        { shot ("A", 0, 48), shot ("B", 1000, 1072), shot ("C", 2000, 2024), shot ("D", 3000, 3096), shot ("E", 4000, 4060) });
}
Edition newCut()
{
    return edition ({ shot ("A", 0, 48), shot ("B", 1012, 1072), shot ("D", 3000, 3096), shot ("C", 2000, 2024),
                      shot ("X", 5000, 5036), shot ("E", 4000, 4050) });
}
} // namespace

TEST_CASE ("Handbook 11.1: the recut oracle")
{
    const auto list = changeList (oldCut(), newCut());
    CHECK (list.oldFrames == 300);
    CHECK (list.newFrames == 314);
    const std::vector<std::pair<std::int64_t, std::optional<std::int64_t>>> expected{
        { 0, 0 },     { 47, 47 },   { 48, {} },   { 59, {} },   { 60, 48 },   { 119, 107 }, { 120, 204 },
        { 143, 227 }, { 144, 108 }, { 239, 203 }, { 240, 264 }, { 289, 313 }, { 290, {} },  { 299, {} },
    };
    for (const auto& [old, now] : expected)
    {
        INFO ("old film frame " << old);
        CHECK (list.newFrameOf (old) == now);
        if (now)
            CHECK (list.oldFrameOf (*now) == old);
    }
    CHECK (list.oldFrameOf (228) == std::nullopt);
    const auto fates = shotFates (list, oldCut(), newCut());
    REQUIRE (fates.size() == 5);
    CHECK (fates[1].trimmedHead == 12);
    CHECK (fates[1].trimmedTail == 0);
    CHECK (fates[2].moved);
    CHECK_FALSE (fates[3].moved);
    CHECK (fates[4].trimmedTail == 10);
    CHECK_FALSE (fates[0].split);
    std::vector<ChangeKind> kinds;
    for (const auto& change : list.changes)
        kinds.push_back (change.kind);
    using K = ChangeKind;
    CHECK (kinds == std::vector<K>{ K::kept, K::cutOut, K::kept, K::kept, K::moved, K::added, K::kept, K::cutOut });
}

TEST_CASE ("The same oracle with the new cut in a print of its own")
{
    auto now = newCut();
    std::vector<SamePictures> known;
    std::int64_t at = 0;
    for (auto& s : now.shots)
    {
        if (s.id != "X")
            known.push_back ({ "p1", s.first, "p2", at, s.frames(), {} });
        s.print = "p2";
        s.end = at + s.frames();
        s.first = at;
        at = s.end;
    }
    const auto direct = changeList (oldCut(), newCut());
    const auto known2 = changeList (oldCut(), now, known);
    CHECK (known2.changes == direct.changes);
    CHECK (sameElsewhere (known, { "p1", 2003 }) == std::vector<SourceFrame>{ { "p2", 207 } });
    CHECK (sameElsewhere (known, { "p2", 230 }).empty());
    CHECK (changeList (now, now, known).changes.size() == 6);
}

TEST_CASE ("A print that is all one shot is traced through every stretch it shares, however many")
{
    // The other print lacks every hundredth film frame.
    std::vector<SamePictures> known;
    for (std::int64_t i = 0; i < 400; ++i)
        known.push_back ({ "p1", i * 100, "p2", i * 99, 99, {} });
    const auto list = changeList (edition ({ shot ("all", 0, 40000) }), edition ({ shot ("all", 0, 39600, "p2") }), known);
    for (std::int64_t i = 0; i < 400; ++i)
    {
        REQUIRE (list.newFrameOf (i * 100 + 98) == i * 99 + 98);
        REQUIRE (list.newFrameOf (i * 100 + 99) == std::nullopt);
    }
}

TEST_CASE ("A shot split by another, one shown twice, and made cards")
{
    const auto before = edition ({ shot ("A", 0, 100), made ("card", 4), shot ("B", 200, 260) });
    auto longer = made ("card", 6);
    const auto after = edition ({ shot ("A", 0, 40), shot ("X", 500, 520), shot ("A2", 40, 100), longer, shot ("B", 200, 260),
                                  shot ("B", 200, 260), made ("end", 2) });
    const auto list = changeList (before, after);
    CHECK (list.newFrameOf (39) == 39);
    CHECK (list.newFrameOf (40) == 60);
    CHECK (list.newFrameOf (100) == 120);
    CHECK (list.oldFrameOf (185) == 105); // the second use of B
    const auto fates = shotFates (list, before, after);
    CHECK (fates[0].split);
    CHECK_FALSE (fates[1].gone);
    bool remade = false, added = false;
    for (const auto& change : list.changes)
    {
        remade = remade || change.kind == ChangeKind::remade;
        added = added || (change.kind == ChangeKind::added && change.frames == 0);
    }
    CHECK (remade);
    CHECK (added);
    const auto back = changeList (after, edition ({ shot ("B", 200, 260) }));
    CHECK (back.newFrameOf (0) == std::nullopt);
    CHECK (shotFates (back, after, edition ({ shot ("B", 200, 260) }))[0].gone);
}

TEST_CASE ("Whatever is done to an edition, every picture of the new one is traced to itself")
{
    CHECK (rc::check ("random cuts",
                      []
                      {
                          const auto count = *rc::gen::inRange (1, 12);
                          std::vector<Shot> shots;
                          for (int i = 0; i < count; ++i)
                              shots.push_back (shot ("s" + std::to_string (i), i * 100, i * 100 + *rc::gen::inRange (2, 90)));
                          const auto before = edition (shots);
                          auto now = shots;
                          for (int k = 0; k < *rc::gen::inRange (0, 5) && now.size() > 1; ++k)
                          {
                              const auto a = *rc::gen::inRange<std::size_t> (0, now.size());
                              switch (*rc::gen::inRange (0, 3))
                              {
                              case 0:
                                  std::swap (now[a], now[*rc::gen::inRange<std::size_t> (0, now.size())]);
                                  break;
                              case 1:
                                  now.erase (now.begin() + static_cast<std::ptrdiff_t> (a));
                                  break;
                              default:
                                  if (now[a].frames() > 1)
                                      ++now[a].first;
                              }
                          }
                          const auto list = changeList (before, edition (now));
                          std::vector<std::int64_t> oldSource, newSource;
                          for (const auto& s : shots)
                              for (auto f = s.first; f < s.end; ++f)
                                  oldSource.push_back (f);
                          for (const auto& s : now)
                              for (auto f = s.first; f < s.end; ++f)
                                  newSource.push_back (f);
                          std::int64_t covered = 0;
                          for (const auto& change : list.changes)
                              if (change.newFirst >= 0)
                                  covered += change.frames;
                          RC_ASSERT (covered == static_cast<std::int64_t> (newSource.size()));
                          for (std::size_t j = 0; j < newSource.size(); ++j)
                          {
                              const auto old = list.oldFrameOf (static_cast<std::int64_t> (j));
                              RC_ASSERT (old.has_value());
                              RC_ASSERT (oldSource[static_cast<std::size_t> (*old)] == newSource[j]);
                              RC_ASSERT (list.newFrameOf (*old) == static_cast<std::int64_t> (j));
                          }
                      }));
}
