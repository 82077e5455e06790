#include "Catch.h"

#include "store/BookFile.h"

#include <nlohmann/json.hpp>

using namespace shutterbeat;
using time::Rational;

namespace
{
spotting::Book bookWithWorks()
{
    spotting::Book book;
    book.title = "The Kite";
    spotting::Work work;
    work.id = "ida-7";
    work.title = "Kite “Waltz”";
    work.iswc = "T-034.524.680-1";
    work.writers = { { "Holm, Ida", "C", "00000000199", "XYZ", Rational (100, 3), { { "seen", "true" } } } };
    work.publishers = { { "Lamplight Music", "E", "", "", Rational (200, 3), {} } };
    work.sum = spotting::ShareSum::together;
    work.unknown = { { "colour", "\"red\"" } };
    spotting::Work old;
    old.id = "ida-8";
    old.title = "An old tune";
    old.protectedByCopyright = false;
    book.works = std::vector{ work, old };
    book.uses = std::vector{ spotting::WorkUse{ "c-1", "ida-7", "BI", {}, Rational (61, 3), {} },
                             spotting::WorkUse{ "c-1", "ida-8", "PD", Rational (30), {}, {} } };
    book.usages = std::vector<spotting::UsageCode>{ { "BI", "behind" } };
    book.production.company = "Lamplight Films";
    book.production.year = "1921";
    book.production.roundUp = true;
    return book;
}
} // namespace

TEST_CASE ("works, their uses, codes and the production come back from the book file as they were")
{
    const auto book = bookWithWorks();
    const auto text = store::bookText (book);
    const auto back = store::parseBook (text, "kite.shutterbeat");
    INFO ((back ? "" : back.error().text()));
    REQUIRE (back.ok());
    CHECK (back->works == book.works);
    CHECK (back->uses == book.uses);
    CHECK (back->usages == book.usages);
    CHECK (back->production == book.production);
    CHECK (store::bookText (*back) == text);
}

TEST_CASE ("a book without works says nothing of them")
{
    const auto text = store::bookText (spotting::Book{});
    for (const char* member : { "works", "work_uses", "usage_codes", "production" })
        CHECK (text.find (member) == std::string::npos);
}

TEST_CASE ("a number given to a work is never given out again, and what makes no sense is named by its place")
{
    auto book = bookWithWorks();
    book.people = std::vector{ spotting::Person{ "ida", "Ida", "composer", 3, {} } };
    const auto text = store::bookText (book);
    CHECK (store::parseBook (text, "k")->people[0].lastNumber == 8);
    const auto broken = [&] (const std::string& from, const std::string& to, const std::string& where)
    {
        auto other = text;
        other.replace (other.find (from), from.size(), to);
        const auto back = store::parseBook (other, "k");
        REQUIRE_FALSE (back.ok());
        CHECK (back.error().text().find (where) != std::string::npos);
    };
    broken ("\"100/3\"", "33.3", "works[0].writers[0].share");
    broken ("\"together\"", "\"someway\"", "works[0].shares_sum");
    broken ("\"ida-8\"", "\"ida-7\"", "works[1].id");
    broken ("\"1921\"", "1921", "production.year");
}
