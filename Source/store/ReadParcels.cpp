#include "store/Members.h"
#include "store/Parcels.h"

namespace shutterbeat::store
{
namespace
{
spotting::SentRow readRow (Members& m)
{
    spotting::SentRow row;
    row.id = m.text ("id", true);
    row.name = m.text ("name");
    row.cue = m.flag ("cue");
    row.reel = static_cast<std::size_t> (m.small ("reel"));
    row.film = m.whole ("film_frame");
    row.delivered = m.whole ("delivered_frame");
    if (m.find ("end", false) != nullptr)
        row.end = m.whole ("end");
    row.said = m.text ("said");
    row.lost = m.flag ("lost");
    return row;
}

spotting::Parcel readParcel (Members& m)
{
    spotting::Parcel parcel;
    parcel.person = m.text ("person", true);
    parcel.number = m.small ("number", 1);
    parcel.stamped = m.text ("stamped");
    parcel.edition = m.text ("edition", true);
    if (auto rate = time::parseRate (m.text ("final_rate", true)))
        parcel.delivery.rate = rate->value;
    else
        m.fail ("final_rate", rate.error().text());
    if (auto fill = film::parseFill (m.text ("fill", true)))
        parcel.delivery.from = *fill;
    else
        m.fail ("fill", fill.error().text());
    m.array ("sent", false, [&] (Members& i) { parcel.rows.push_back (readRow (i)); });
    m.array ("files", false, [&] (Members& i) { parcel.files.push_back ({ i.text ("name", true), i.text ("sha256") }); });
    parcel.unknown = m.unknown();
    return parcel;
}
} // namespace

Result<std::vector<spotting::Parcel>> parcelsOf (const spotting::Book& book)
{
    std::vector<spotting::Parcel> parcels;
    const auto member = book.unknown.find ("parcels");
    if (member == book.unknown.end())
        return parcels;
    const auto json = Json::object ({ { "parcels", Json::parse (member->second, nullptr, false) } });
    std::optional<Error> failed;
    Members m (json, "", failed);
    m.array ("parcels", true, [&] (Members& i) { parcels.push_back (readParcel (i)); });
    if (failed)
        return unreadable ("book", "its list of parcels is damaged: " + failed->text() + "; open a backup of it");
    return parcels;
}
} // namespace shutterbeat::store
