#include "desk/Export.h"
#include "desk/RenderBench.h"
#include "store/BookFile.h"
#include "store/WholeFile.h"

#include <filesystem>

using namespace shutterbeat;
using namespace shutterbeat::tests;
namespace fs = std::filesystem;

namespace
{
/// A book whose ids, names and numbers try to lead out of the folder or to run something, as one that came by mail might.
desk::OpenBook hostileBook (const TestFolder& folder)
{
    film::ReelFile reel;
    const std::string film = "films/$(touch ran)/;touch ran;.mp4";
    fs::create_directories (fs::path (folder.path (film)).parent_path());
    fs::rename (encode (folder, "a.mp4", "-c:v libx264 -preset ultrafast", "25", 200), folder.path (film));
    reel.path = "../" + film;
    reel.cadence = film::Cadence::oneToOne (200);
    reel.width = 160;
    reel.height = 120;
    film::Print print;
    print.id = "../../p";
    print.name = "`touch ran`";
    print.reels = { reel };
    film::Edition edition;
    edition.letter = "/../../A";
    edition.speed = 20;
    film::Shot shot;
    shot.id = "../../../s";
    shot.name = "| touch ran";
    shot.print = print.id;
    shot.end = 200;
    edition.shots = { shot };
    spotting::Book book;
    book.title = "../../../title; touch ran";
    book.edition = edition.letter;
    book.prints = std::vector{ print };
    book.editions = std::vector{ edition };
    book.delivery = { time::parseRate ("25")->value, std::nullopt };
    std::vector<spotting::Cue> cues;
    for (const char* id : { "x/../../../out-1", "x/../../../out-2", "..\\..\\out-3" })
    {
        spotting::Cue cue;
        cue.id = id;
        cue.number = "../1M1"; // all the same, so that their files need their ids to be told apart
        cue.title = "$(touch ran)";
        cue.in = film::PicturePlace{ print.id, 10, 0 };
        cue.out = film::PicturePlace{ print.id, 150, 0 };
        cue.tempo = *music::TempoMap::steady (120);
        cues.push_back (cue);
    }
    book.cues = cues;
    spotting::HitPoint hit;
    hit.id = "../../h-1";
    hit.label = "=HYPERLINK(\"x\")";
    hit.place = film::PicturePlace{ print.id, 20, 0 };
    book.hits = std::vector{ hit };
    const auto path = folder.path ("in/mail.shutterbeat");
    fs::create_directories (fs::path (path).parent_path());
    REQUIRE (store::saveBook (path, book, "").ok());
    auto open = desk::openBook (path);
    REQUIRE (open.ok());
    return *open;
}

std::vector<std::string> filesBelow (const fs::path& folder)
{
    std::vector<std::string> files;
    for (const auto& entry : fs::recursive_directory_iterator (folder))
        files.push_back (fs::relative (entry.path(), folder).string());
    return files;
}
} // namespace

TEST_CASE ("What a book says cannot write outside the chosen folder, nor run anything")
{
    const TestFolder folder;
    const auto open = hostileBook (folder);
    const auto before = filesBelow (folder.path (""));
    desk::ExportWish wish;
    wish.stamped = "2026-05-01";
    // A folder of the name that the ids go through, so that a way out would be open.
    const auto target = folder.path ("chosen/deep/inside");
    fs::create_directories (target + "/cue-..-1M1-x");
    fs::create_directories (target + "/cue--1M1-x");
    fs::create_directories (target + "/cue-x");
    const auto all = desk::exportAll (open, target, wish);
    INFO ((all ? "" : all.error().text()));
    REQUIRE (all.ok());
    for (const auto& file : all->files)
    {
        INFO (file);
        CHECK (fs::weakly_canonical (file).parent_path() == fs::weakly_canonical (target));
    }
    for (const auto& file : filesBelow (folder.path ("")))
        if (std::find (before.begin(), before.end(), file) == before.end())
        {
            INFO (file);
            CHECK (file.rfind ("chosen", 0) == 0);
        }
    CHECK_FALSE (fs::exists ("ran"));
    CHECK (std::count_if (all->files.begin(), all->files.end(), [] (const std::string& f) { return f.ends_with (".musicxml"); })
           == 3);
}
