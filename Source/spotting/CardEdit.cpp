#include "spotting/CardEdit.h"

#include "spotting/WordingText.h"

#include <algorithm>
#include <functional>

namespace shutterbeat::spotting
{
namespace
{
using film::Shot;

std::string where (const std::string& shot)
{
    return "card " + shot;
}

/// The first use of a card's shot. Error: no edition has it, or it is no card.
Result<const Shot*> cardShot (const Book& book, const std::string& id)
{
    for (const auto& edition : book.editions)
        for (const auto& shot : edition.shots)
            if (shot.id == id)
            {
                if (shot.kind != film::ShotKind::card)
                    return usageError ("shot " + shot.name,
                                       "is no card; if it is one, say so first: shots BOOK set " + shot.name + " --kind card");
                return &shot;
            }
    return usageError (where (id), "no edition has a shot of that id");
}

/// Whether some edition takes that card from that print: after a recut it may be another print in each.
bool isShownFrom (const Book& book, const std::string& id, const std::string& print)
{
    for (const auto& edition : book.editions)
        for (const auto& shot : edition.shots)
            if (shot.id == id && shot.print == print)
                return true;
    return false;
}

/// A hit on the head of that shot that the scan proposed and nobody has touched.
bool isProposed (const HitPoint& hit, const std::string& shot)
{
    const auto* edge = std::get_if<film::EdgePlace> (&hit.place);
    return hit.fromScan && hit.kind == HitKind::card && edge != nullptr && edge->shot == shot && edge->edge == film::Edge::head;
}

/// Cards changed one after the other, made a book of at the end.
class CardWork
{
public:
    explicit CardWork (const Book& from)
        : book (from)
        , cards (from.cards.list())
        , editions (from.editions.list())
    {
    }

    Card& card (const std::string& shot)
    {
        const auto found = std::find_if (cards.begin(), cards.end(), [&] (const Card& card) { return card.shot == shot; });
        return found != cards.end() ? *found : cards.emplace_back (Card{ shot, {}, {} });
    }

    void setWording (const std::string& id, const std::string& wording)
    {
        for (auto& edition : editions)
            for (auto& shot : edition.shots)
                if (shot.id == id)
                    shot.wording = wording;
        touched.push_back (id);
    }

    Book finish()
    {
        std::erase_if (cards, [] (const Card& card) { return card.texts.empty() && card.unknown.empty(); });
        Book changed = book;
        changed.cards = std::move (cards);
        changed.editions = std::move (editions);
        auto hits = book.hits.list();
        bool relabelled = false;
        for (auto& hit : hits)
            for (const auto& id : touched)
                if (isProposed (hit, id))
                    if (const auto shot = cardShot (changed, id))
                    {
                        const auto label = cardLabel (changed, **shot);
                        hit.label = label.empty() ? "card " + (*shot)->name : label;
                        relabelled = true;
                    }
        if (relabelled)
            changed.hits = std::move (hits);
        return changed;
    }

private:
    const Book& book;
    std::vector<Card> cards;
    std::vector<film::Edition> editions;
    std::vector<std::string> touched;
};

bool isReading (const CardText& text, const CardText& of)
{
    return ! text.byHand && text.print == of.print && text.language == of.language;
}

/// Puts a person's text into a register entry in place of the same text, if it is there.
void putByHand (Card& card, CardText text)
{
    text.byHand = true;
    text.doubtful = false;
    text.sure = 1000;
    const auto same = std::find_if (card.texts.begin(), card.texts.end(), [&] (const CardText& t) { return t.text == text.text; });
    if (same == card.texts.end())
    {
        card.texts.push_back (std::move (text));
        return;
    }
    if (text.print.empty())
        text.print = same->print;
    if (text.language.empty())
        text.language = same->language;
    text.unknown = same->unknown;
    *same = std::move (text);
}
} // namespace

const Card* cardOf (const Book& book, const std::string& shot)
{
    const auto found = std::find_if (book.cards.begin(), book.cards.end(), [&] (const Card& card) { return card.shot == shot; });
    return found != book.cards.end() ? &*found : nullptr;
}

const CardText* chosenText (const Book& book, const Shot& shot)
{
    const Card* card = cardOf (book, shot.id);
    if (card == nullptr || shot.wording.empty())
        return nullptr;
    // A person's counts before a reading of the same text.
    const CardText* chosen = nullptr;
    for (const auto& text : card->texts)
        if (text.text == shot.wording && (chosen == nullptr || text.byHand))
            chosen = &text;
    return chosen;
}

std::string cardLabel (const Book& book, const Shot& shot)
{
    const CardText* chosen = chosenText (book, shot);
    const std::string line = onOneLine (shot.wording);
    return chosen != nullptr && chosen->doubtful ? line + " (?)" : line;
}

std::string untilText (const Book& book, const film::Edition& edition, const film::Place& place)
{
    const auto* edge = std::get_if<film::EdgePlace> (&place);
    if (edge == nullptr || edge->offset != std::variant<std::int64_t, time::Rational> (std::int64_t{ 0 }))
        return "";
    int use = 0;
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        if (edition.shots[i].id != edge->shot || use++ != edge->instance)
            continue;
        const std::size_t begins = edge->edge == film::Edge::head ? i : i + 1;
        if (begins < edition.shots.size() && edition.shots[begins].kind == film::ShotKind::card)
            return cardLabel (book, edition.shots[begins]);
        return "";
    }
    return "";
}

Result<CardsRead> withReadings (const Book& book, const std::vector<CardReading>& readings)
{
    CardsRead read;
    CardWork work (book);
    for (const auto& reading : readings)
    {
        const auto shot = cardShot (book, reading.shot);
        if (! shot)
            return shot.error();
        Card& card = work.card (reading.shot);
        const std::string now = (*shot)->wording;
        const auto holds = [&] (bool byHand)
        {
            return std::find_if (card.texts.begin(), card.texts.end(),
                                 [&] (const CardText& t) { return t.byHand == byHand && t.text == now; });
        };
        const bool persons = ! now.empty() && (holds (true) != card.texts.end() || holds (false) == card.texts.end());
        // Another print's wording, or one less sure, stands beside.
        bool better = now.empty() && isShownFrom (book, reading.shot, reading.text.print);
        if (const auto chosen = holds (false); ! now.empty() && ! persons)
            better = chosen->print == reading.text.print
                     && (isReading (*chosen, reading.text) || chosen->doubtful || ! reading.text.doubtful);
        CardText text = reading.text;
        const auto earlier =
            std::find_if (card.texts.begin(), card.texts.end(), [&] (const CardText& t) { return isReading (t, reading.text); });
        if (earlier != card.texts.end())
        {
            text.unknown = earlier->unknown;
            *earlier = text;
        }
        else
            card.texts.push_back (text);
        read.doubtful += text.doubtful ? 1 : 0;
        if (text.text.empty())
            std::erase_if (card.texts, [] (const CardText& t) { return t.text.empty() && ! t.byHand; });
        if (persons || ! better || text.text.empty())
            read.kept += text.text != now ? 1 : 0;
        else if (text.text != now)
        {
            work.setWording (reading.shot, text.text);
            ++read.taken;
        }
    }
    read.book = work.finish();
    return read;
}

Result<Book> setCardWording (const Book& book, const std::string& shot, const std::string& text, const std::string& print,
                             const std::string& language)
{
    if (const auto found = cardShot (book, shot); ! found)
        return found.error();
    CardWork work (book);
    if (! text.empty())
    {
        CardText own;
        own.text = text;
        own.print = print;
        own.language = language;
        putByHand (work.card (shot), std::move (own));
    }
    work.setWording (shot, text);
    return work.finish();
}

Result<Book> addCardWording (const Book& book, const std::string& shot, const CardText& text)
{
    if (const auto found = cardShot (book, shot); ! found)
        return found.error();
    if (text.text.empty())
        return usageError (where (shot), "a wording to keep beside the chosen one has to say something");
    CardWork work (book);
    putByHand (work.card (shot), text);
    return work.finish();
}

namespace
{
/// Error: the card has no wording of that number.
Result<Done> hasNumber (const Book& book, const std::string& shot, std::size_t number)
{
    const Card* card = cardOf (book, shot);
    const std::size_t count = card != nullptr ? card->texts.size() : 0;
    if (number >= 1 && number <= count)
        return Done{};
    return usageError (where (shot),
                       "has no wording " + std::to_string (number) + "; the register has " + std::to_string (count) + " of it");
}
} // namespace

Result<Book> chooseCardWording (const Book& book, const std::string& shot, std::size_t number)
{
    if (const auto found = cardShot (book, shot); ! found)
        return found.error();
    if (const auto there = hasNumber (book, shot, number); ! there)
        return there.error();
    CardWork work (book);
    CardText& chosen = work.card (shot).texts[number - 1];
    chosen.byHand = true;
    chosen.doubtful = false;
    work.setWording (shot, chosen.text);
    return work.finish();
}

Result<Book> removeCardWording (const Book& book, const std::string& shot, std::optional<std::size_t> number)
{
    const auto found = cardShot (book, shot);
    if (! found)
        return found.error();
    CardWork work (book);
    if (! number)
    {
        work.card (shot).texts.clear();
        work.setWording (shot, "");
        return work.finish();
    }
    if (const auto there = hasNumber (book, shot, *number); ! there)
        return there.error();
    auto& texts = work.card (shot).texts;
    const auto at = texts.begin() + static_cast<std::ptrdiff_t> (*number - 1);
    if (at->text == (*found)->wording)
        work.setWording (shot, "");
    texts.erase (at);
    return work.finish();
}
} // namespace shutterbeat::spotting
