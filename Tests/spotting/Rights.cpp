#include "SmallBook.h"

#include "spotting/WorkEdit.h"

using namespace shutterbeat;
using spotting::Interest;
using spotting::ShareSum;
using spotting::Work;
using time::Rational;

namespace
{
Interest interest (const std::string& name, const std::string& role, const Rational& share, const std::string& ipi = "")
{
    return { name, role, ipi, "", share, {} };
}

Work waltz()
{
    Work work;
    work.title = "The Ladder Waltz";
    work.iswc = "T-034.524.680-1";
    work.writers = { interest ("Holm, Ida", "C", 50, "00000000199"), interest ("Brand, Otto", "AR", 50) };
    work.publishers = { interest ("Lamplight Music", "E", 100) };
    return work;
}

/// Ten cues of 30.4 s each, one after the other (WORKED J).
spotting::Book tenCues()
{
    auto book = tests::smallBook();
    auto edition = book.editions[0];
    edition.speed = Rational (25);
    edition.shots = { tests::shot ("s-1", 0, 7600) };
    book.prints = std::vector<film::Print>{ tests::print (7600) };
    book.editions = std::vector<film::Edition>{ edition };
    book.delivery.rate = { Rational (25), false };
    std::vector<spotting::Cue> cues;
    for (int i = 0; i < 10; ++i)
    {
        auto cue = tests::cueOver (tests::picture (760 * i), tests::picture (760 * (i + 1)), "1M" + std::to_string (i + 1));
        cue.id = "c-" + std::to_string (i);
        if (i == 9)
            cue.out = film::EdgePlace{ "s-1", film::Edge::tail, std::int64_t{ 0 }, 0 };
        cues.push_back (cue);
    }
    book.cues = cues;
    return book;
}

bool said (const std::vector<std::string>& faults, const std::string& part)
{
    return std::any_of (faults.begin(), faults.end(),
                        [&] (const std::string& fault) { return fault.find (part) != std::string::npos; });
}
} // namespace

TEST_CASE ("ISWC check digits (handbook 8)")
{
    CHECK (*spotting::checkIswc ("T-034.524.680-1") == "T-034.524.680-1");
    CHECK (*spotting::checkIswc ("t0345246801") == "T-034.524.680-1");
    CHECK (*spotting::checkIswc ("T-123.456.789-4") == "T-123.456.789-4");
    for (const char* wrong : { "T-034.524.680-2", "T-034.524.681-1", "034.524.680-1", "T-034.524.68-1", "T-034.524.680-X", "" })
        CHECK_FALSE (spotting::checkIswc (wrong).ok());
    CHECK (spotting::checkIswc ("T-034.524.680-2").error().text().find ("where 1 fits") != std::string::npos);
    // Every single wrong digit is found.
    CHECK_PROPERTY (
        [] (int place, int digit)
        {
            std::string text = "T0345246801";
            auto& c = text[static_cast<std::size_t> (1 + std::abs (place % 9))];
            const char other = static_cast<char> ('0' + std::abs (digit % 10));
            if (c == other)
                return spotting::checkIswc (text).ok();
            const int weight = 1 + std::abs (place % 9);
            const int change = weight * (other - c);
            c = other;
            // A change that the modulus can't see is the identifier's own limit.
            return spotting::checkIswc (text).ok() == (change % 10 == 0);
        });
}

TEST_CASE ("IPI name numbers (modulo 101) and base numbers (modulo 10)")
{
    CHECK (*spotting::checkIpi ("00000000199") == "00000000199");
    CHECK (*spotting::checkIpi ("199") == "00000000199");
    CHECK (*spotting::checkIpi ("00000000297") == "00000000297");
    CHECK (*spotting::checkIpi ("00000000395") == "00000000395");
    CHECK (*spotting::checkIpi ("I-000000229-7") == "I-000000229-7");
    CHECK (*spotting::checkIpi ("i0000002297") == "I-000000229-7");
    for (const char* wrong : { "00000000198", "00000000299", "I-000000229-8", "I-00000229-7", "123456789012", "12", "abc" })
        CHECK_FALSE (spotting::checkIpi (wrong).ok());
    CHECK (spotting::checkIpi ("00000000198").error().text().find ("where 99 fits") != std::string::npos);
}

TEST_CASE ("shares are exact and may follow either convention: those that do not sum are named")
{
    auto work = waltz();
    CHECK (spotting::faultsOf (work).empty());
    work.writers = { interest ("A", "C", Rational (100, 3)), interest ("B", "C", Rational (100, 3)),
                     interest ("D", "A", Rational (100, 3)) };
    CHECK (spotting::faultsOf (work).empty()); // three thirds are a whole
    work.writers[2].share = Rational (33);
    REQUIRE (spotting::faultsOf (work).size() == 1);
    CHECK (spotting::faultsOf (work)[0] == "work \"The Ladder Waltz\": the shares of its writers sum to 99 2/3, not 100");
    work = waltz();
    work.sum = ShareSum::together;
    CHECK (said (spotting::faultsOf (work), "the shares of all sum to 200, not 100"));
    work.writers = { interest ("A", "C", 25), interest ("B", "C", 25) };
    work.publishers[0].share = Rational (50);
    CHECK (spotting::faultsOf (work).empty());
    work.writers[0].role = "E";
    work.writers[1].ipi = "00000000198";
    work.iswc = "T-034.524.680-2";
    CHECK (spotting::faultsOf (work).size() == 3);
    work.protectedByCopyright = false;
    work.writers.clear();
    work.publishers.clear();
    work.iswc.clear();
    CHECK (spotting::faultsOf (work).empty());
    CHECK (spotting::percentText (Rational (100, 3)) == "33 1/3");
    CHECK (spotting::percentText (Rational (25, 2)) == "12.5");
    CHECK (spotting::percentText (Rational (50)) == "50");
    CHECK (spotting::percentText (Rational (1, 3)) == "1/3");
}

TEST_CASE ("WORKED J: ten cues of 30.4 s are ten rows of 0:30, 5:00 in all, 5:04 exactly")
{
    auto book = tenCues();
    const auto times = *spotting::timesOf (book);
    auto table = spotting::rightsOf (book, times);
    REQUIRE (table.rows.size() == 10);
    for (const auto& row : table.rows)
        CHECK (row.seconds == 30);
    CHECK (table.total == 300);
    CHECK (table.exact == Rational (304));
    CHECK (table.faults.size() == 10); // no cue has a work yet
    book.production.roundUp = true;
    table = spotting::rightsOf (book, times);
    CHECK (table.rows[0].seconds == 31);
    CHECK (table.total == 310);
}

TEST_CASE ("works are entered once and used in cues, whole or in part: what does not fit is named")
{
    auto book = tenCues();
    const auto added = spotting::addWork (book, "anna", waltz());
    REQUIRE (added.ok());
    book = added->book;
    const auto id = added->ids[0];
    auto second = waltz();
    second.title = "Chase";
    book = spotting::addWork (book, "anna", second)->book;
    const auto chase = spotting::workNamed (book, "Chase")->id;
    book =
        *spotting::setUses (book, "c-0", { { "", id, "BI", {}, Rational (20), {} }, { "", chase, "VI", Rational (20), {}, {} } });
    book = *spotting::setUses (book, "c-1", { { "", id, "BI", {}, {}, {} } });
    book = *spotting::setUses (
        book, "c-2", { { "", id, "ZZ", Rational (10), Rational (40), {} }, { "", chase, "BI", Rational (12), Rational (20), {} } });
    auto cues = book.cues.list();
    cues[3].kind = spotting::CueKind::tacet;
    book.cues = cues;
    const auto table = spotting::rightsOf (book, *spotting::timesOf (book));
    REQUIRE (table.rows.size() == 11);
    CHECK (table.rows[0].seconds == 20);
    CHECK (table.rows[1].work->title == "Chase");
    CHECK (table.rows[1].exact == Rational (52, 5));
    CHECK (table.rows[2].exact == Rational (152, 5));
    CHECK (said (table.faults, "cue 1M3 is 0:30.40 long and uses \"The Ladder Waltz\" from 0:10.00 to 0:40.00"));
    CHECK (said (table.faults, "usage \"ZZ\" is not in the book's table"));
    CHECK (said (table.faults, "\"Chase\" begins before \"The Ladder Waltz\" ends"));
    CHECK_FALSE (said (table.faults, "1M4"));
    // The table of codes is the user's.
    book = *spotting::setUsages (book, { { "ZZ", "asleep" } });
    CHECK_FALSE (said (spotting::rightsOf (book, *spotting::timesOf (book)).faults, "\"ZZ\""));
    CHECK_FALSE (spotting::setUsages (book, { { "A", "" }, { "A", "" } }).ok());
    // A cue that goes takes its uses with it, not the works.
    CHECK (spotting::removeCues (book, { "c-2" })->uses.size() == 3);
    CHECK (spotting::removeCues (book, { "c-2" })->works.size() == 2);
    // A work that goes leaves its cues.
    book = *spotting::removeWorks (book, { id });
    CHECK (book.uses.size() == 2);
    CHECK_FALSE (spotting::removeWorks (book, { id }).ok());
}

TEST_CASE ("works that make no sense are refused in words: numbers are put as they are printed")
{
    const auto book = tests::smallBook();
    const auto refused = [&] (auto change)
    {
        auto work = waltz();
        change (work);
        const auto added = spotting::addWork (book, "anna", work);
        CHECK_FALSE (added.ok());
    };
    refused ([] (Work& w) { w.title.clear(); });
    refused ([] (Work& w) { w.iswc = "T-034.524.680-2"; });
    refused ([] (Work& w) { w.writers[0].ipi = "00000000198"; });
    refused ([] (Work& w) { w.writers[0].role = "E"; });
    refused ([] (Work& w) { w.publishers[0].role = "C"; });
    refused ([] (Work& w) { w.writers[0].share = Rational (101); });
    refused ([] (Work& w) { w.writers[0].name.clear(); });
    auto work = waltz();
    work.iswc = "t0345246801";
    work.writers[0].ipi = "199";
    const auto added = spotting::addWork (book, "anna", work);
    REQUIRE (added.ok());
    const auto kept = *spotting::workNamed (added->book, "The Ladder Waltz");
    CHECK (kept.iswc == "T-034.524.680-1");
    CHECK (kept.writers[0].ipi == "00000000199");
    auto changed = kept;
    changed.note = "for a small band";
    CHECK (spotting::workNamed (*spotting::setWork (added->book, changed), kept.id)->note == "for a small band");
    CHECK_FALSE (spotting::setWork (book, kept).ok());
    CHECK_FALSE (spotting::setUses (book, "nobody", {}).ok());
}
