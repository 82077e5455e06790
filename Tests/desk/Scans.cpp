#include "Catch.h"

#include "../media/NumberedFilm.h"
#include "desk/CardOrder.h"
#include "desk/ContactSheet.h"
#include "desk/ScanCache.h"
#include "media/FrameReader.h"

#include <cmath>
#include <filesystem>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
scan::Measures someMeasures()
{
    scan::Measures measures;
    for (int i = 0; i < 300; ++i)
    {
        scan::FrameMeasure frame;
        frame.level = 0.1F * static_cast<float> (i);
        frame.cut = i % 60 == 0 ? 0.7F : 0.01F;
        frame.mix = -0.0F;
        frame.repeat = i % 3 == 0;
        frame.divided = i % 7 == 0;
        frame.damaged = i % 50 == 9;
        measures.frames.push_back (frame);
    }
    measures.returns.push_back ({ 3, 5, 0.25F });
    measures.cards.push_back ({ 8, 0.99F });
    return measures;
}

bool same (const scan::Measures& a, const scan::Measures& b)
{
    return desk::measuresBytes (a) == desk::measuresBytes (b);
}

/// Three shots: bars, lines, bars the other way round, 40 pictures each.
std::string threeShots (const TestFolder& folder)
{
    const auto path = folder.path ("three shots.mkv");
    const std::string source = "=s=160x120:r=25:d=1.6";
    run ("ffmpeg -nostdin -y -v error -f lavfi -i smptebars" + source + " -f lavfi -i testsrc2" + source + " -f lavfi -i smptebars"
         + source + " -filter_complex '[2]vflip[c];[0][1][c]concat=n=3' -pix_fmt yuv420p " + quoted (path));
    return path;
}
} // namespace

TEST_CASE ("measures come back from bytes as they were, and never from damaged ones")
{
    const auto measures = someMeasures();
    const auto bytes = desk::measuresBytes (measures);
    const auto back = desk::measuresFrom (bytes);
    REQUIRE (back);
    CHECK (same (*back, measures));
    REQUIRE (back->frames.size() == 300);
    CHECK (back->frames[59].damaged);
    CHECK (back->frames[63].divided);
    CHECK (std::signbit (back->frames[0].mix));
    CHECK (back->cards[0].frame == 8);
    for (std::size_t cut = 0; cut < bytes.size(); cut += 97)
        CHECK_FALSE (desk::measuresFrom (bytes.substr (0, cut)));
    for (std::size_t at = 0; at < bytes.size(); at += 61)
    {
        auto changed = bytes;
        changed[at] = static_cast<char> (changed[at] ^ 4);
        CHECK_FALSE (desk::measuresFrom (changed));
    }
    CHECK (same (*desk::measuresFrom (desk::measuresBytes ({})), {}));
}

TEST_CASE ("a film is looked through once: another threshold takes no second pass")
{
    TestFolder folder;
    const auto film = threeShots (folder);
    int told = 0;
    const auto watch = [&] (double, const std::string&)
    {
        ++told;
        return true;
    };
    const auto first = desk::measureFilm (film, watch);
    REQUIRE (first);
    CHECK_FALSE (first->before);
    CHECK (told > 0);
    told = 0;
    const auto again = desk::measureFilm (film, watch);
    REQUIRE (again);
    CHECK (again->before);
    CHECK (told == 0);
    CHECK (same (again->measures, first->measures));

    const auto usual = desk::scanFilm (film);
    const auto deaf = desk::scanFilm (film, {}, 1.0);
    REQUIRE (usual);
    REQUIRE (deaf);
    CHECK (usual->scan.shots.size() == 3);
    CHECK (deaf->scan.shots.size() == 1);
    CHECK (usual->scan.shots[1].firstFile == 40);

    // Another film of that name is another film.
    encode (folder, "other.mkv", "-c:v ffv1", "25", 60);
    std::filesystem::rename (folder.path ("other.mkv"), film);
    const auto other = desk::measureFilm (film);
    REQUIRE (other);
    CHECK_FALSE (other->before);
    CHECK (other->measures.frames.size() == 60);
}

TEST_CASE ("a contact sheet has a picture from the middle of every shot")
{
    TestFolder folder;
    const auto scanned = desk::scanFilm (threeShots (folder));
    REQUIRE (scanned);
    const auto png = folder.path ("sheet.png");
    const auto notes = desk::writeContactSheet (*scanned, png);
    INFO ((notes ? "" : notes.error().text()));
    REQUIRE (notes);
    auto reader = media::FrameReader::open (png);
    REQUIRE (reader);
    CHECK ((*reader)->info().width == 1920);
    const auto sheet = (*reader)->frame (0);
    REQUIRE (sheet);
    // The first and the third are the same bars, one upside down: the left upper corner of each picture tells.
    const auto redAt = [&] (int x, int y)
    { return static_cast<int> (sheet->rgb[static_cast<std::size_t> (3 * (y * sheet->width + x))]); };
    const int top = 64 + 148 + 20; // margin, title, a little into the picture; two pixels a point
    const int cell = (1920 - 128 - 7 * 24) / 8 + 24;
    CHECK (redAt (74, top) > 150);            // light bar
    CHECK (redAt (74 + 2 * cell, top) < 100); // the dark foot of the bars, upside down

    const auto pdf = folder.path ("sheet.pdf");
    REQUIRE (desk::writeContactSheet (*scanned, pdf));
    const auto bytes = bytesOf (pdf);
    REQUIRE (desk::writeContactSheet (*scanned, pdf));
    CHECK (bytesOf (pdf) == bytes);
    run ("pdftotext -layout " + quoted (pdf) + " " + quoted (folder.path ("sheet.txt")));
    const auto text = bytesOf (folder.path ("sheet.txt"));
    CHECK (text.find ("three shots") != std::string::npos);
    CHECK (text.find ("3 shots, 0 of them cards; 120 frames") != std::string::npos);
    CHECK (text.find ("+40") != std::string::npos);

    CHECK_FALSE (desk::writeContactSheet (*scanned, folder.path ("sheet.jpg")));
    const auto stopped =
        desk::writeContactSheet (*scanned, folder.path ("no.png"), [] (double, const std::string&) { return false; });
    REQUIRE_FALSE (stopped);
    CHECK (stopped.error().code == ErrorCode::cancelled);
    CHECK_FALSE (std::filesystem::exists (folder.path ("no.png")));
}

TEST_CASE ("cards of another print are laid beside those that say about the same, in film order")
{
    using Beside = std::vector<std::optional<std::size_t>>;
    const std::vector<std::string> own{ "The kite", "Meanwhile, at the mill", "Rosa runs", "The End" };
    CHECK (desk::laidBeside (own, { "Thc kite", "Rosa runs!", "The Fnd" }) == Beside{ 0, 2, 3 });
    CHECK (desk::laidBeside (own, { "A card nobody knows", "Meanwhile at the mi1l" }) == Beside{ std::nullopt, 1 });
    CHECK (desk::laidBeside (own, {}).empty());
    CHECK (desk::laidBeside ({}, { "The kite" }) == Beside{ std::nullopt });
    // Never crossed: the film's order holds.
    const auto crossed = desk::laidBeside ({ "Rosa runs", "The kite" }, { "The kite", "Rosa runs" });
    CHECK ((! crossed[0] || ! crossed[1] || *crossed[0] < *crossed[1]));
}
