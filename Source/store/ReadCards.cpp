#include "store/Cards.h"

#include "store/Members.h"

#include <set>

namespace shutterbeat::store
{
namespace
{
spotting::CardText readText (Members& m)
{
    spotting::CardText text;
    text.text = m.text ("text");
    text.print = m.text ("print");
    text.language = m.text ("language");
    text.sure = m.small ("sure_permille", text.sure);
    if (text.sure > 1000)
        m.fail ("sure_permille", "has to be a whole number from 0 to 1000");
    text.doubtful = m.flag ("doubtful");
    text.byHand = m.flag ("by_hand");
    text.unknown = m.unknown();
    return text;
}
} // namespace

void readCards (Members& book, spotting::Section<spotting::Card>& cards)
{
    std::vector<spotting::Card> all;
    std::set<std::string> shots;
    book.array ("cards", false,
                [&] (Members& m)
                {
                    spotting::Card card;
                    card.shot = m.text ("shot", true);
                    if (! shots.insert (card.shot).second)
                        m.fail ("shot", "has two cards: " + card.shot);
                    m.array ("wordings", true, [&] (Members& inner) { card.texts.push_back (readText (inner)); });
                    card.unknown = m.unknown();
                    all.push_back (std::move (card));
                });
    cards = std::move (all);
}
} // namespace shutterbeat::store
