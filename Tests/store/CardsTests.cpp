#include "Catch.h"

#include "store/BookFile.h"

#include <nlohmann/json.hpp>

#include <functional>

using namespace shutterbeat;

namespace
{
spotting::Book bookWithCards()
{
    spotting::Book book;
    book.title = "The Kite";
    spotting::CardText read{ "Im\xc3\xb8rgen,\n\xe2\x80\x9cvielleicht\xe2\x80\x9d",
                             "print-2",
                             "dan+deu",
                             437,
                             true,
                             false,
                             { { "typeface", "\"black letter\"" } } };
    spotting::CardText written{ "Tomorrow, perhaps", "", "", 1000, false, true, {} };
    book.cards = std::vector<spotting::Card>{ { "scan-4", { read, written }, { { "seen_by", "[\"bo\"]" } } },
                                              { "scan-9", { written }, {} } };
    return book;
}
} // namespace

TEST_CASE ("cards come back from the book file as they were, unknown members too")
{
    const auto book = bookWithCards();
    const auto text = store::bookText (book);
    const auto back = store::parseBook (text, "kite.shutterbeat");
    REQUIRE (back.ok());
    CHECK (back->cards == book.cards);
    CHECK (store::bookText (*back) == text);
    CHECK (text.find ("black letter") != std::string::npos);
    CHECK (text.find ("seen_by") != std::string::npos);
}

TEST_CASE ("a book without cards read says nothing of them, and one of before has none")
{
    const auto text = store::bookText (spotting::Book{});
    CHECK (text.find ("cards") == std::string::npos);
    CHECK (store::parseBook (text, "kite.shutterbeat")->cards.empty());
}

TEST_CASE ("a card that makes no sense is named by its place in the file")
{
    const auto broken = [] (const std::function<void (nlohmann::json&)>& change)
    {
        auto json = nlohmann::json::parse (store::bookText (bookWithCards()));
        change (json["cards"]);
        const auto read = store::parseBook (json.dump(), "kite.shutterbeat");
        return read ? std::string ("accepted") : read.error().message;
    };
    const auto says = [] (const std::string& text, const std::string& what) { return text.find (what) != std::string::npos; };
    CHECK (broken ([] (auto&) {}) == "accepted");
    CHECK (says (broken ([] (auto& c) { c[1].erase ("shot"); }), "cards[1].shot"));
    CHECK (says (broken ([] (auto& c) { c[1]["shot"] = "scan-4"; }), "cards[1].shot"));
    CHECK (says (broken ([] (auto& c) { c[0]["wordings"] = 3; }), "cards[0].wordings"));
    CHECK (says (broken ([] (auto& c) { c[0]["wordings"][0]["sure_permille"] = 1001; }), "cards[0].wordings[0].sure_permille"));
    CHECK (says (broken ([] (auto& c) { c[0]["wordings"][0]["text"] = false; }), "cards[0].wordings[0].text"));
    CHECK (says (broken ([] (auto& c) { c = "all"; }), "cards"));
}
