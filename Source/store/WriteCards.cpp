#include "store/Cards.h"

namespace shutterbeat::store
{
OrderedJson cardsJson (const spotting::Section<spotting::Card>& cards)
{
    OrderedJson all = OrderedJson::array();
    for (const auto& card : cards)
    {
        OrderedJson texts = OrderedJson::array();
        for (const auto& text : card.texts)
        {
            OrderedJson json{ { "text", text.text } };
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
        OrderedJson json{ { "shot", card.shot }, { "wordings", std::move (texts) } };
        addUnknown (json, card.unknown);
        all.push_back (std::move (json));
    }
    return all;
}
} // namespace shutterbeat::store
