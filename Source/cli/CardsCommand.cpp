#include "cli/Command.h"
#include "cli/Table.h"
#include "desk/Cards.h"
#include "desk/Prints.h"
#include "spotting/CardEdit.h"
#include "spotting/CardRegister.h"
#include "spotting/ShotEdit.h"
#include "spotting/WordingText.h"
#include "time/Clock.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct CardWords
{
    std::string book, print, languages;
    std::vector<std::string> cards;
    std::optional<std::string> wording;
    std::optional<std::size_t> number;
    bool beside = false, onlyNew = false, json = false;
    AskedWords asked;
};

std::string percent (int permille)
{
    return std::to_string ((permille + 5) / 10) + " %";
}

/// How a card's wording came about, in a word or two.
std::string sureText (const spotting::CardRow& row)
{
    if (row.card.wording.empty())
        return "";
    if (! row.chosen || row.chosen->byHand)
        return "by hand";
    return percent (row.chosen->sure) + (row.chosen->doubtful ? " doubtful" : "");
}

Json textJson (const spotting::CardText& text)
{
    return { { "text", text.text },
             { "print", text.print.empty() ? Json (nullptr) : Json (text.print) },
             { "language", text.language.empty() ? Json (nullptr) : Json (text.language) },
             { "confidence", text.sure / 1000.0 },
             { "doubtful", text.doubtful },
             { "by_hand", text.byHand } };
}

Json rowJson (const spotting::CardRow& row)
{
    Json readable = Json::array(), texts = Json::array();
    for (const auto& by : row.readable)
        readable.push_back ({ { "rule", std::string (spotting::readingRuleName (by.rule)) },
                              { "needs_seconds", time::secondsText (by.needed) },
                              { "enough", by.enough } });
    for (const auto& text : row.texts)
        texts.push_back (textJson (text));
    const bool byHand = ! row.card.wording.empty() && (! row.chosen || row.chosen->byHand);
    return { { "shot", row.card.id },
             { "name", row.card.name },
             { "made", row.card.made.has_value() },
             { "film_frame", row.head.filmFrame },
             { "timecode", row.head.timecode },
             { "clock", time::clockText (row.head.clock) },
             { "film_frames", row.card.made ? Json (nullptr) : Json (row.card.frames()) },
             { "seconds", time::secondsText (row.seconds) },
             { "feet", time::decimalText (row.feet, 2) },
             { "running_speed", time::fractionText (row.speed) },
             { "flash_title", row.flash },
             { "wording", row.card.wording },
             { "words", row.words },
             { "confidence", row.chosen ? Json (row.chosen->sure / 1000.0) : Json (nullptr) },
             { "doubtful", row.chosen && row.chosen->doubtful },
             { "by_hand", byHand },
             { "readable", std::move (readable) },
             { "wordings", std::move (texts) } };
}

int listCards (const CardWords& words, const Console& console)
{
    const auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    const auto cards = spotting::cardRows (timed->open.book, timed->times.timings);
    if (words.json)
    {
        Json all = Json::array();
        for (const auto& row : cards)
            all.push_back (rowJson (row));
        console.out << all.dump (2) << "\n";
        return done;
    }
    std::vector<Column> columns{ { "card" },          { "" },           { "film frame", true }, { "frames", true },
                                 { "seconds", true }, { "feet", true }, { "words", true } };
    for (const auto rule : spotting::readingRules())
        columns.push_back ({ std::string (spotting::readingRuleName (rule)) });
    columns.push_back ({ "sure" });
    columns.push_back ({ "wording" });
    std::vector<std::vector<std::string>> rows;
    std::size_t doubtful = 0, unread = 0, flashes = 0;
    for (const auto& row : cards)
    {
        std::vector<std::string> cells{ row.card.name,
                                        row.card.made ? "made"
                                        : row.flash   ? "flash title"
                                                      : "",
                                        std::to_string (row.head.filmFrame),
                                        row.card.made ? "" : std::to_string (row.card.frames()),
                                        time::secondsText (row.seconds),
                                        time::decimalText (row.feet, 2),
                                        std::to_string (row.words) };
        for (const auto& by : row.readable)
            cells.push_back (by.enough ? "enough" : time::secondsText (by.needed - row.seconds) + " s short");
        cells.resize (7 + spotting::readingRules().size());
        cells.push_back (sureText (row));
        cells.push_back (oneLine (spotting::onOneLine (row.card.wording)));
        rows.push_back (std::move (cells));
        doubtful += row.chosen && row.chosen->doubtful ? 1U : 0U;
        unread += row.card.wording.empty() ? 1U : 0U;
        flashes += row.flash ? 1U : 0U;
    }
    printTable (columns, rows, console.out);
    std::vector<std::string> notes;
    if (unread > 0)
        notes.push_back (std::to_string (unread) + " of " + std::to_string (cards.size())
                         + " cards have no wording; read them with: shutterbeat cards " + words.book + " read");
    if (doubtful > 0)
        notes.push_back (std::to_string (doubtful) + " readings are doubtful; look at them and say what they are with: "
                         + "shutterbeat cards " + words.book + " set CARD --wording TEXT, or --choose 1");
    if (flashes > 0)
        notes.push_back (std::to_string (flashes)
                         + " flash titles of a few film frames have to be lengthened before anybody can read them");
    console.notes (notes);
    return done;
}

int readCards (const CardWords& words, const Console& console)
{
    Json told;
    const int status = editBook (
        console, words.book,
        [&] (const desk::OpenBook& open) -> Result<spotting::Book>
        {
            desk::CardsWanted wanted;
            wanted.edition = words.asked.edition;
            wanted.cards = words.cards;
            wanted.print = words.print;
            wanted.languages = words.languages;
            wanted.again = ! words.onlyNew;
            auto read = desk::readCards (open, wanted, console.progress());
            if (! read)
                return read.error();
            console.notes (read->notes);
            told = { { "read", read->read }, { "taken", read->taken }, { "kept", read->kept }, { "doubtful", read->doubtful } };
            return std::move (read->book);
        });
    if (status != done)
        return status;
    if (words.json)
        console.out << told.dump (2) << "\n";
    else
        console.out << told["read"] << " cards read: " << told["taken"] << " have a new wording, " << told["kept"]
                    << " keep another; " << told["doubtful"] << " readings are doubtful\n";
    return done;
}

/// The shot of the one card that was named, in the edition asked for.
Result<std::string> cardNamed (const spotting::Book& book, const CardWords& words)
{
    const auto letter = words.asked.edition.empty() ? book.edition : words.asked.edition;
    const auto* edition = spotting::editionOf (book, letter);
    if (edition == nullptr)
        return usageError ("edition " + letter, "the book does not have it");
    return spotting::shotNamed (*edition, words.cards.front());
}

Result<spotting::Book> setCard (const desk::OpenBook& open, const CardWords& words)
{
    const auto shot = cardNamed (open.book, words);
    if (! shot)
        return shot.error();
    if (words.number)
        return spotting::chooseCardWording (open.book, *shot, *words.number);
    if (! words.wording)
        return usageError ("cards set", "say what the card says with --wording, or which of its wordings it is with --choose");
    std::string print;
    if (! words.print.empty())
    {
        const auto id = desk::printNamed (open.book, words.print);
        if (! id)
            return id.error();
        print = *id;
    }
    if (! words.beside)
        return spotting::setCardWording (open.book, *shot, *words.wording, print, words.languages);
    spotting::CardText text;
    text.text = *words.wording;
    text.print = print;
    text.language = words.languages;
    return spotting::addCardWording (open.book, *shot, text);
}
} // namespace

void addCards (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<CardWords>();
    auto* command =
        app.add_subcommand ("cards", "The register of title cards: what they say, how long they stand, who can read them");
    command->footer ("Example: shutterbeat cards film.shutterbeat read --language dan+eng");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->require_subcommand (0, 1);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    const auto listing = [words, &chosen] { chosen = [words] (const Console& console) { return listCards (*words, console); }; };
    command->callback (
        [command, listing]
        {
            if (command->get_subcommands().empty())
                listing();
        });
    const auto ofEdition = [&] (CLI::App* sub)
    { sub->add_option ("--edition", words->asked.edition, "Letter of the edition; else the one worked on"); };

    auto* list = command->add_subcommand ("list", "Every card with its wording, length and whether it can be read in time");
    list->footer ("Example: shutterbeat cards film.shutterbeat list --running 16");
    words->asked.addTo (*list);
    list->add_flag ("--json", words->json, "One JSON document on standard output");
    list->callback (listing);

    auto* read = command->add_subcommand ("read", "Reads wordings from the film; what a person wrote stays");
    read->footer ("Example: shutterbeat cards film.shutterbeat read --print \"Second print\" --language deu");
    read->add_option ("CARD", words->cards, "Cards, by name or id; else all");
    read->add_option ("--language", words->languages,
                      "Languages of the cards as Tesseract names them: dan+eng; else those read last, or all installed");
    read->add_option ("--print", words->print,
                      "Only the cards of this print, by name or id; it may be one the edition does not use");
    read->add_flag ("--new", words->onlyNew, "Only cards without a wording");
    ofEdition (read);
    read->add_flag ("--json", words->json, "One JSON document on standard output");
    read->callback ([words, &chosen] { chosen = [words] (const Console& console) { return readCards (*words, console); }; });

    const auto edit = [&] (CLI::App* sub, Result<spotting::Book> (*change) (const desk::OpenBook&, const CardWords&))
    {
        sub->callback (
            [words, &chosen, change]
            {
                chosen = [words, change] (const Console& console)
                { return editBook (console, words->book, [&] (const desk::OpenBook& open) { return change (open, *words); }); };
            });
    };
    auto* set = command->add_subcommand ("set", "Says what a card says");
    set->footer ("Example: shutterbeat cards film.shutterbeat set 12 --wording \"Meanwhile, at the mill\"");
    set->add_option ("CARD", words->cards, "The card, by name or id")->required()->expected (1);
    auto* wording = set->add_option ("--wording", words->wording, "Its wording; \"\" for none");
    set->add_option ("--choose", words->number, "One of the wordings in the register, by its number in cards list --json, from 1")
        ->excludes (wording);
    set->add_option ("--print", words->print, "The print that says so, by name or id");
    set->add_option ("--language", words->languages, "Its language");
    set->add_flag ("--beside", words->beside, "Keeps the chosen wording and this one beside it");
    ofEdition (set);
    edit (set, setCard);

    auto* remove = command->add_subcommand ("remove", "Removes a wording of a card, or all of them");
    remove->footer ("Example: shutterbeat cards film.shutterbeat remove 12 --number 2");
    remove->add_option ("CARD", words->cards, "The card, by name or id")->required()->expected (1);
    remove->add_option ("--number", words->number, "Which wording, from 1; else all");
    ofEdition (remove);
    edit (remove,
          [] (const desk::OpenBook& open, const CardWords& said) -> Result<spotting::Book>
          {
              const auto shot = cardNamed (open.book, said);
              if (! shot)
                  return shot.error();
              return spotting::removeCardWording (open.book, *shot, said.number);
          });
}
} // namespace shutterbeat::cli
