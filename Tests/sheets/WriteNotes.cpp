// Writes every sheet of the sample book into the folder named by SHUTTERBEAT_OUT, under the locale of the environment.
#include "exchange/SampleBook.h"

#include "sheets/ClickChart.h"
#include "sheets/CueListSheet.h"
#include "sheets/FilmLists.h"
#include "sheets/PlayersSheet.h"
#include "sheets/RightsSheet.h"
#include "sheets/SpottingNotes.h"
#include "sheets/StripScore.h"
#include "sheets/TimingNotes.h"

#include <clocale>
#include <fstream>
#include <iostream>
#include <locale>

using namespace shutterbeat;

TEST_CASE ("write the sheets")
{
    const char* folder = std::getenv ("SHUTTERBEAT_OUT");
    REQUIRE (folder != nullptr);
    REQUIRE (std::setlocale (LC_ALL, "") != nullptr);
    std::locale::global (std::locale (""));
    std::cout << "decimal sign " << std::localeconv()->decimal_point << std::endl;
    const auto save = [&] (const std::string& name, const Result<sheets::Sheet>& sheet)
    {
        REQUIRE (sheet.ok());
        std::ofstream file (std::string (folder) + "/" + name + ".pdf", std::ios::binary);
        file << sheet->pdf;
        REQUIRE (file.good());
    };
    const auto book = tests::comedy();
    const auto times = tests::timed (book);
    const sheets::SheetHead head{ "The Runaway Ladder", "2026-05-01", sheets::Paper::a4 };
    const sheets::PictureAt pictureAt = [] (const film::Position& position)
    {
        return std::make_shared<const sheets::SheetPicture> (sheets::SheetPicture{
            64, 48, true, std::vector<std::uint8_t> (64 * 48, static_cast<std::uint8_t> (70 + position.shot * 9)) });
    };
    save ("notes", sheets::spottingNotes (times, head, pictureAt));
    save ("timing-notes", sheets::timingNotes (times, head, pictureAt));
    save ("cue-list", sheets::cueListSheet (book, times, head));
    save ("click-chart", sheets::clickChart (times, head));
    save ("strip-score", sheets::stripScore (times, head, pictureAt));
    save ("players", sheets::playersSheet (book, times, head));
    save ("rights", sheets::rightsSheet (book, times, head));
    save ("title-list", sheets::titleList (book, times, head, pictureAt));
    save ("source-list", sheets::sourceList (times, head));
}
