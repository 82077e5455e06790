#include "Catch.h"

#include "store/BookFile.h"

#include <nlohmann/json.hpp>

using namespace shutterbeat;
using time::Rational;

namespace
{
spotting::Book bookWithSounds()
{
    spotting::Book book;
    book.title = "The Kite";
    spotting::Sound plain;
    plain.id = "bo-1";
    plain.name = "Ærø – 1M1.wav";
    plain.path = "sounds/Ærø – 1M1.wav";
    plain.samples = 123456789012;
    spotting::Sound full = plain;
    full.id = "bo-2";
    full.identity = "12-ab";
    full.rate = 44100;
    full.channels = 6;
    full.timeReference = 158'760'000;
    full.kind = spotting::SoundKind::stem;
    full.placed = spotting::PlacedBy::wavTimeStamp;
    full.place = { "bo-9", 0, Rational (-1001, 24000) };
    full.gain = Rational (-13, 2);
    full.muted = true;
    full.cue = "bo-9";
    full.madeFor = { "A", { { Rational (30000, 1001), true }, Rational (30) } };
    full.note = "strings only";
    full.unknown = { { "colour_of_tape", "\"red\"" } };
    book.sounds = std::vector<spotting::Sound>{ plain, full };
    return book;
}
} // namespace

TEST_CASE ("sounds come back from the book file as they were, unknown members too")
{
    const auto book = bookWithSounds();
    const auto text = store::bookText (book);
    const auto back = store::parseBook (text, "kite.shutterbeat");
    REQUIRE (back.ok());
    CHECK (back->sounds == book.sounds);
    CHECK (store::bookText (*back) == text);
    CHECK (text.find ("colour_of_tape") != std::string::npos);
}

TEST_CASE ("a book without sounds says nothing of them, and one of before has none")
{
    const auto text = store::bookText (spotting::Book{});
    CHECK (text.find ("sounds") == std::string::npos);
    CHECK (store::parseBook (text, "kite.shutterbeat")->sounds.empty());
}

TEST_CASE ("a sound that makes no sense is named by its place in the file")
{
    const auto broken = [] (const std::function<void (nlohmann::json&)>& change)
    {
        auto soundJson = nlohmann::json::parse (store::bookText (bookWithSounds()));
        change (soundJson["sounds"][1]);
        const auto read = store::parseBook (soundJson.dump(), "kite.shutterbeat");
        return read ? std::string ("accepted") : read.error().message;
    };
    const auto says = [] (const std::string& text, const std::string& what) { return text.find (what) != std::string::npos; };
    CHECK (broken ([] (auto&) {}) == "accepted");
    CHECK (says (broken ([] (auto& s) { s["place"]["seconds"] = 1.5; }), "sounds[1].place.seconds"));
    CHECK (says (broken ([] (auto& s) { s.erase ("place"); }), "sounds[1].place"));
    CHECK (says (broken ([] (auto& s) { s["kind"] = "song"; }), "sounds[1].kind"));
    CHECK (says (broken ([] (auto& s) { s["rate"] = 0; }), "sounds[1].rate"));
    CHECK (says (broken ([] (auto& s) { s["samples"] = -1; }), "sounds[1].samples"));
    CHECK (says (broken ([] (auto& s) { s["gain_db"] = "1/0"; }), "sounds[1].gain_db"));
    CHECK (says (broken ([] (auto& s) { s["made_for"]["final_rate"] = "blue"; }), "sounds[1].made_for.final_rate"));
    CHECK (says (broken ([] (auto& s) { s["id"] = "bo-1"; }), "used twice"));
    CHECK (says (broken ([] (auto& s) { s["place"] = 7; }), "sounds[1].place"));
}
