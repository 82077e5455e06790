#include "store/Works.h"

#include "store/Members.h"

#include <set>

namespace shutterbeat::store
{
namespace
{
spotting::Interest readInterest (Members& m)
{
    spotting::Interest interest;
    interest.name = m.text ("name", true);
    interest.role = m.text ("role", true);
    interest.ipi = m.text ("ipi");
    interest.society = m.text ("society");
    interest.share = m.fraction ("share", true).value_or (time::Rational (0));
    interest.unknown = m.unknown();
    return interest;
}

spotting::Work readWork (Members& m)
{
    spotting::Work work;
    work.id = m.text ("id", true);
    work.title = m.text ("title", true);
    work.iswc = m.text ("iswc");
    m.array ("writers", false, [&] (Members& inner) { work.writers.push_back (readInterest (inner)); });
    m.array ("publishers", false, [&] (Members& inner) { work.publishers.push_back (readInterest (inner)); });
    const auto sum = m.text ("shares_sum");
    if (! sum.empty() && sum != "apart" && sum != "together")
        m.fail ("shares_sum", "has to be apart or together");
    work.sum = sum == "together" ? spotting::ShareSum::together : spotting::ShareSum::apart;
    work.protectedByCopyright = ! m.flag ("non_copyright");
    work.note = m.text ("note");
    work.unknown = m.unknown();
    return work;
}
} // namespace

void readWorks (Members& book, spotting::Book& into)
{
    std::vector<spotting::Work> works;
    std::vector<spotting::WorkUse> uses;
    std::vector<spotting::UsageCode> codes;
    std::set<std::string> ids;
    book.array ("works", false,
                [&] (Members& m)
                {
                    works.push_back (readWork (m));
                    if (! ids.insert (works.back().id).second)
                        m.fail ("id", "is used twice: " + works.back().id);
                });
    book.array ("work_uses", false,
                [&] (Members& m)
                {
                    spotting::WorkUse use;
                    use.cue = m.text ("cue", true);
                    use.work = m.text ("work", true);
                    use.usage = m.text ("usage");
                    use.from = m.fraction ("from");
                    use.to = m.fraction ("to");
                    use.unknown = m.unknown();
                    uses.push_back (std::move (use));
                });
    book.array ("usage_codes", false, [&] (Members& m) { codes.push_back ({ m.text ("code", true), m.text ("meaning") }); });
    if (const auto* json = book.find ("production", false))
    {
        Members m (*json, "production", book.failure());
        for (const auto& field : spotting::productionFields())
            into.production.*field.text = m.text (field.name);
        into.production.roundUp = m.flag ("round_up");
        into.production.unknown = m.unknown();
    }
    into.works = std::move (works);
    into.uses = std::move (uses);
    into.usages = std::move (codes);
}
} // namespace shutterbeat::store
