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

spotting::SentState readState (Members& m, const char* rows)
{
    spotting::SentState state;
    state.edition = m.text ("edition", true);
    if (auto rate = time::parseRate (m.text ("final_rate", true)))
        state.delivery.rate = rate->value;
    else
        m.fail ("final_rate", rate.error().text());
    if (auto fill = film::parseFill (m.text ("fill", true)))
        state.delivery.from = *fill;
    else
        m.fail ("fill", fill.error().text());
    m.array (rows, false, [&] (Members& i) { state.rows.push_back (readRow (i)); });
    return state;
}

spotting::Parcel readParcel (Members& m)
{
    spotting::Parcel parcel;
    parcel.person = m.text ("person", true);
    parcel.number = m.small ("number", 1);
    parcel.stamped = m.text ("stamped");
    parcel.sent = readState (m, "sent");
    m.array ("files", false, [&] (Members& i) { parcel.files.push_back ({ i.text ("name", true), i.text ("sha256") }); });
    parcel.unknown = m.unknown();
    return parcel;
}

spotting::Revision readRevision (Members& m)
{
    spotting::Revision revision;
    revision.name = m.text ("name", true);
    revision.stamped = m.text ("stamped");
    revision.state = m.text ("state");
    revision.kept = readState (m, "kept");
    revision.unknown = m.unknown();
    return revision;
}

template <class Item>
Result<std::vector<Item>> listOf (const spotting::Book& book, const char* name, Item (*read) (Members&))
{
    std::vector<Item> items;
    const auto member = book.unknown.find (name);
    if (member == book.unknown.end())
        return items;
    const auto json = Json::object ({ { name, Json::parse (member->second, nullptr, false) } });
    std::optional<Error> failed;
    Members m (json, "", failed);
    m.array (name, true, [&] (Members& i) { items.push_back (read (i)); });
    if (failed)
        return unreadable ("book",
                           "its list of " + std::string (name) + " is damaged: " + failed->text() + "; open a backup of it");
    return items;
}
} // namespace

Result<std::vector<spotting::Parcel>> parcelsOf (const spotting::Book& book)
{
    return listOf (book, "parcels", readParcel);
}

Result<std::vector<spotting::Revision>> revisionsOf (const spotting::Book& book)
{
    return listOf (book, "revisions", readRevision);
}
} // namespace shutterbeat::store
