#include "store/Works.h"

namespace shutterbeat::store
{
namespace
{
using Json = nlohmann::ordered_json;

/// Members of a newer program go back where they were found.
void addUnknown (Json& object, const film::Unknown& unknown)
{
    for (const auto& [name, text] : unknown)
    {
        auto value = Json::parse (text, nullptr, false);
        if (! value.is_discarded() && ! object.contains (name))
            object[name] = std::move (value);
    }
}

Json interestsJson (const std::vector<spotting::Interest>& interests)
{
    Json all = Json::array();
    for (const auto& interest : interests)
    {
        Json json{ { "name", interest.name },
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

void addWorks (Json& json, const spotting::Book& book)
{
    if (! book.works.empty())
    {
        Json works = Json::array();
        for (const auto& work : book.works)
        {
            Json one{ { "id", work.id },
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
        Json uses = Json::array();
        for (const auto& use : book.uses)
        {
            Json one{ { "cue", use.cue }, { "work", use.work }, { "usage", use.usage } };
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
        Json codes = Json::array();
        for (const auto& code : book.usages)
            codes.push_back ({ { "code", code.code }, { "meaning", code.meaning } });
        json["usage_codes"] = std::move (codes);
    }
    if (! (book.production == spotting::Production{}))
    {
        Json production = Json::object();
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
