#include "store/Works.h"

namespace shutterbeat::store
{
namespace
{
OrderedJson interestsJson (const std::vector<spotting::Interest>& interests)
{
    OrderedJson all = OrderedJson::array();
    for (const auto& interest : interests)
    {
        OrderedJson json{ { "name", interest.name },
                          { "role", interest.role },
                          { "ipi", interest.ipi },
                          { "society", interest.society },
                          { "share", time::fractionText (interest.share) } };
        addUnknown (json, interest.unknown);
        all.push_back (std::move (json));
    }
    return all;
}
} // namespace

void addWorks (OrderedJson& json, const spotting::Book& book)
{
    if (! book.works.empty())
    {
        OrderedJson works = OrderedJson::array();
        for (const auto& work : book.works)
        {
            OrderedJson one{ { "id", work.id },
                             { "title", work.title },
                             { "iswc", work.iswc },
                             { "writers", interestsJson (work.writers) },
                             { "publishers", interestsJson (work.publishers) },
                             { "shares_sum", work.sum == spotting::ShareSum::together ? "together" : "apart" },
                             { "non_copyright", ! work.protectedByCopyright },
                             { "note", work.note } };
            addUnknown (one, work.unknown);
            works.push_back (std::move (one));
        }
        json["works"] = std::move (works);
    }
    if (! book.uses.empty())
    {
        OrderedJson uses = OrderedJson::array();
        for (const auto& use : book.uses)
        {
            OrderedJson one{ { "cue", use.cue }, { "work", use.work }, { "usage", use.usage } };
            if (use.from)
                one["from"] = time::fractionText (*use.from);
            if (use.to)
                one["to"] = time::fractionText (*use.to);
            addUnknown (one, use.unknown);
            uses.push_back (std::move (one));
        }
        json["work_uses"] = std::move (uses);
    }
    if (! book.usages.empty())
    {
        OrderedJson codes = OrderedJson::array();
        for (const auto& code : book.usages)
            codes.push_back ({ { "code", code.code }, { "meaning", code.meaning } });
        json["usage_codes"] = std::move (codes);
    }
    if (! (book.production == spotting::Production{}))
    {
        OrderedJson production = OrderedJson::object();
        for (const auto& field : spotting::productionFields())
            if (const auto& text = book.production.*field.text; ! text.empty())
                production[field.name] = text;
        if (book.production.roundUp)
            production["round_up"] = true;
        addUnknown (production, book.production.unknown);
        json["production"] = std::move (production);
    }
}
} // namespace shutterbeat::store
