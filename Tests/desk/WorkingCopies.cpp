#include "desk/FilmPath.h"
#include "desk/Pictures.h"
#include "desk/Proxy.h"
#include "desk/RenderBench.h"
#include "store/BookFile.h"

#include <filesystem>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// A saved book on a film of numbered pictures; its working copies keep the film's size, so that the numbers can be read.
desk::OpenBook savedBook (const TestFolder& folder, const std::string& film, std::int64_t end)
{
    auto open = bookOf (folder, film, { filmShot ("a", 0, end, 18) });
    const auto saved = desk::saveBook (open);
    INFO ((saved ? "" : saved.error().text()));
    REQUIRE (saved);
    return open;
}

desk::MadeWorkingCopies copied (desk::OpenBook& open, const desk::WorkingCopyWish& wish = {})
{
    auto made = desk::makeWorkingCopies (open, wish);
    INFO ((made ? "" : made.error().text()));
    REQUIRE (made);
    return std::move (*made);
}
} // namespace

TEST_CASE ("A working copy has the film's frames under the same numbers, however the film is made")
{
    const TestFolder folder;
    struct Kind
    {
        const char* name;
        const char* options;
        const char* rate;
    };
    for (const auto& kind : { Kind{ "long.mp4", "-c:v libx264 -preset ultrafast -g 250 -bf 3", "24000/1001" },
                              Kind{ "open.mpg", "-c:v mpeg2video -q:v 3 -g 12 -bf 2", "25" },
                              Kind{ "hidden.mp4", "-c:v libx264 -preset ultrafast -g 20 -bf 2", "25" } })
    {
        INFO (kind.name);
        auto film = encode (folder, kind.name, kind.options, kind.rate, 100);
        if (std::string (kind.name) == "hidden.mp4")
            film = remake (folder, film, "trimmed.mp4", "-ss 1.3", "-c copy");
        const auto before = inOrder (film);
        auto open = savedBook (folder, film, static_cast<std::int64_t> (before.size()));
        const auto made = copied (open);
        REQUIRE (made.made.size() == 1);
        const auto after = inOrder (made.made[0].path);
        REQUIRE (after.size() == before.size());
        for (std::size_t k = 0; k < before.size(); ++k)
            CHECK (after[k].number == before[k].number);
        const auto original = media::openFilm (film), copy = media::openFilm (made.made[0].path);
        REQUIRE (copy);
        CHECK (copy->rate == original->rate);
        std::filesystem::remove (open.path);
    }
}

TEST_CASE ("The book names its working copies, keeps them through saving, and takes pictures from them when the film is away")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 80);
    auto open = savedBook (folder, film, 80);
    const auto made = copied (open);
    CHECK (made.made[0].path == folder.path ("book-working/film.mp4"));
    CHECK (made.made[0].frames == 80);
    const auto again = desk::openBook (open.path);
    REQUIRE (again);
    const auto& reel = again->book.prints[0].reels[0];
    CHECK (desk::filmPathForPlaying (*again, reel) == made.made[0].path);
    CHECK (desk::filmPath (*again, reel) == film);
    CHECK (desk::filmPathForPictures (*again, reel) == film);
    // Once more does nothing unless it is asked for.
    open = *again;
    CHECK (copied (open).made.empty());
    desk::WorkingCopyWish anew;
    anew.again = true;
    CHECK (copied (open, anew).made.size() == 1);

    std::filesystem::rename (film, folder.path ("elsewhere.mp4"));
    CHECK (desk::missingFilms (open).size() == 1);
    CHECK (desk::missingWorkingCopies (open).empty());
    desk::Pictures pictures (open);
    CHECK (pictures.sourceFrame (open.book.prints[0], 42, filmWidth, filmHeight));
    auto wish = plainWish();
    const auto movie = rendered (open, folder.path ("movie.mp4"), wish);
    CHECK (movie.frames == 107);
    CHECK (inOrder (movie.path)[16].number == 12);
    bool told = false;
    for (const auto& note : movie.notes)
        told = told || note.find ("working copy") != std::string::npos;
    CHECK (told);
}

TEST_CASE ("Film and working copy are found again each for itself, and only by the same frames")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 80);
    auto open = savedBook (folder, film, 80);
    const auto made = copied (open);
    const auto moved = folder.path ("moved-copy.mp4");
    std::filesystem::rename (made.made[0].path, moved);
    const auto missing = desk::missingWorkingCopies (open);
    REQUIRE (missing.size() == 1);
    CHECK (missing[0].workingCopy);
    CHECK (desk::missingFilms (open).empty());
    // Without its copy the film itself is played.
    CHECK (desk::filmPathForPlaying (open, open.book.prints[0].reels[0]) == film);
    const auto other = numberedFilm (folder, 81, "other.mp4");
    CHECK_FALSE (desk::relink (open, missing[0], other));
    const auto found = desk::relink (open, missing[0], moved);
    REQUIRE (found);
    open.book = *found;
    CHECK (desk::filmPathForPlaying (open, open.book.prints[0].reels[0]) == moved);
    CHECK (desk::filmPath (open, open.book.prints[0].reels[0]) == film);
}

TEST_CASE ("Making working copies can be stopped and leaves nothing: films are never written over")
{
    const TestFolder folder;
    const auto film = numberedFilm (folder, 80);
    auto open = savedBook (folder, film, 80);
    const auto before = bytesOf (open.path);
    const auto stopped = desk::makeWorkingCopies (open, {}, [] (double fraction, const std::string&) { return fraction < 0.5; });
    REQUIRE_FALSE (stopped);
    CHECK (stopped.error().code == ErrorCode::cancelled);
    CHECK (bytesOf (open.path) == before);
    CHECK (std::filesystem::is_empty (folder.path ("book-working")));

    const auto bytes = bytesOf (film);
    desk::WorkingCopyWish wish;
    wish.folder = std::filesystem::path (film).parent_path().string();
    const auto refused = desk::makeWorkingCopies (open, wish);
    REQUIRE_FALSE (refused);
    CHECK (refused.error().message.find ("own films") != std::string::npos);
    CHECK (bytesOf (film) == bytes);
    wish.width = 3;
    CHECK_FALSE (desk::makeWorkingCopies (open, wish));
}
