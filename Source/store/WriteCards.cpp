#include "store/Cards.h"

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
} // namespace

Json cardsJson (const spotting::Section<spotting::Card>& cards)
{
    Json all = Json::array();
    for (const auto& card : cards)
    {
        Json texts = Json::array();
        for (const auto& text : card.texts)
        {
            Json json{ { "text", text.text } };
            if (! text.print.empty())
                json["print"] = text.print;
            if (! text.language.empty())
                json["language"] = text.language;
            json["sure_permille"] = text.sure;
            if (text.doubtful)
                json["doubtful"] = true;
            if (text.byHand)
                json["by_hand"] = true;
            addUnknown (json, text.unknown);
            texts.push_back (std::move (json));
        }
        Json json{ { "shot", card.shot }, { "wordings", std::move (texts) } };
        addUnknown (json, card.unknown);
        all.push_back (std::move (json));
    }
    return all;
}
} // namespace shutterbeat::store
