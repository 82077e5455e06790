#include "store/Parcels.h"

#include <nlohmann/json.hpp>

namespace shutterbeat::store
{
namespace
{
using NamedJson = nlohmann::json; // names in order, as the book passes on what it does not know

NamedJson rowJson (const spotting::SentRow& row)
{
    NamedJson json{ { "id", row.id }, { "name", row.name } };
    if (row.cue)
        json["cue"] = true;
    if (row.reel != 0)
        json["reel"] = row.reel;
    json["film_frame"] = row.film;
    json["delivered_frame"] = row.delivered;
    if (row.end)
        json["end"] = *row.end;
    json["said"] = row.said;
    if (row.lost)
        json["lost"] = true;
    return json;
}
void putState (NamedJson& json, const spotting::SentState& state, const char* rows)
{
    json["edition"] = state.edition;
    json["final_rate"] = time::rateName (state.delivery.rate);
    json["fill"] = film::fillName (state.delivery.from);
    NamedJson list = NamedJson::array();
    for (const auto& row : state.rows)
        list.push_back (rowJson (row));
    json[rows] = std::move (list);
}

void putUnknown (NamedJson& json, const spotting::Unknown& unknown)
{
    for (const auto& [name, text] : unknown)
    {
        auto value = NamedJson::parse (text, nullptr, false);
        if (! value.is_discarded() && ! json.contains (name))
            json[name] = std::move (value);
    }
}

spotting::Book withList (spotting::Book book, const char* name, const NamedJson& list)
{
    book.unknown.erase (name);
    if (! list.empty())
        book.unknown[name] = list.dump (-1, ' ', false, NamedJson::error_handler_t::replace);
    return book;
}
} // namespace

spotting::Book withParcels (spotting::Book book, const std::vector<spotting::Parcel>& parcels)
{
    NamedJson list = NamedJson::array();
    for (const auto& parcel : parcels)
    {
        NamedJson one{ { "person", parcel.person }, { "number", parcel.number }, { "stamped", parcel.stamped } };
        putState (one, parcel.sent, "sent");
        NamedJson files = NamedJson::array();
        for (const auto& file : parcel.files)
            files.push_back ({ { "name", file.name }, { "sha256", file.sha256 } });
        one["files"] = std::move (files);
        putUnknown (one, parcel.unknown);
        list.push_back (std::move (one));
    }
    return withList (std::move (book), "parcels", list);
}

spotting::Book withRevisions (spotting::Book book, const std::vector<spotting::Revision>& revisions)
{
    NamedJson list = NamedJson::array();
    for (const auto& revision : revisions)
    {
        NamedJson one{ { "name", revision.name }, { "stamped", revision.stamped }, { "state", revision.state } };
        putState (one, revision.kept, "kept");
        putUnknown (one, revision.unknown);
        list.push_back (std::move (one));
    }
    return withList (std::move (book), "revisions", list);
}
} // namespace shutterbeat::store
