#include "store/Parcels.h"

#include <nlohmann/json.hpp>

namespace shutterbeat::store
{
namespace
{
using Json = nlohmann::json; // names in order, as the book passes on what it does not know

Json rowJson (const spotting::SentRow& row)
{
    Json json{ { "id", row.id }, { "name", row.name } };
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
} // namespace

spotting::Book withParcels (spotting::Book book, const std::vector<spotting::Parcel>& parcels)
{
    book.unknown.erase ("parcels");
    if (parcels.empty())
        return book;
    Json list = Json::array();
    for (const auto& parcel : parcels)
    {
        Json rows = Json::array(), files = Json::array();
        for (const auto& row : parcel.rows)
            rows.push_back (rowJson (row));
        for (const auto& file : parcel.files)
            files.push_back ({ { "name", file.name }, { "sha256", file.sha256 } });
        Json one{ { "person", parcel.person },
                  { "number", parcel.number },
                  { "stamped", parcel.stamped },
                  { "edition", parcel.edition },
                  { "final_rate", time::rateName (parcel.delivery.rate) },
                  { "fill", film::fillName (parcel.delivery.from) },
                  { "sent", std::move (rows) },
                  { "files", std::move (files) } };
        for (const auto& [name, text] : parcel.unknown)
        {
            auto value = Json::parse (text, nullptr, false);
            if (! value.is_discarded() && ! one.contains (name))
                one[name] = std::move (value);
        }
        list.push_back (std::move (one));
    }
    book.unknown["parcels"] = list.dump (-1, ' ', false, Json::error_handler_t::replace);
    return book;
}
} // namespace shutterbeat::store
