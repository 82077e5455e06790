#include "media/FilmFile.h"
#include "media/FrameReader.h"
#include "media/GreyPass.h"

#include "Catch.h"
#include "media/NumberedFilm.h"

#include <filesystem>
#include <random>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// Opening fails by every door, naming the file, with `words` in the sentence.
void checkRefused (const std::string& path, const std::string& words)
{
    INFO (path);
    const auto info = media::openFilm (path);
    REQUIRE_FALSE (info);
    CHECK (info.error().code == ErrorCode::unreadable);
    CHECK (info.error().where == path);
    CHECK (contains (info.error().message, words));
    CHECK (info.error().message.find ('\n') == std::string::npos);
    const auto reader = media::FrameReader::open (path);
    REQUIRE_FALSE (reader);
    CHECK (reader.error().text() == info.error().text());
    CHECK_FALSE (media::forEachGrey (path, 16, 12, [] (std::int64_t, const film::GreyPicture&) { return true; }));
    CHECK_FALSE (media::readFrameIndex (path));
}
} // namespace

TEST_CASE ("what is no film is refused with one clear sentence")
{
    TestFolder folder;
    checkRefused (folder.path ("nothing.mp4"), "no such file");
    checkRefused (folder.path (""), "is a folder");
    writeBytes (folder.path ("empty.mp4"), "");
    checkRefused (folder.path ("empty.mp4"), "empty");
    writeBytes (folder.path ("letter.txt"), "Dear Sir,\nthe reels are in the post.\n");
    checkRefused (folder.path ("letter.txt"), "not a film");
    writeBytes (folder.path ("letter.mp4"), "Dear Sir,\nthe reels are in the post.\n");
    checkRefused (folder.path ("letter.mp4"), "not a film");
    writeBytes (folder.path ("page.html"), "<html><body>Not found</body></html>\n");
    checkRefused (folder.path ("page.html"), "not a film");
    std::mt19937 random (7);
    std::string noise (100000, '\0');
    for (auto& byte : noise)
        byte = static_cast<char> (random());
    writeBytes (folder.path ("noise.mov"), noise);
    CHECK_FALSE (media::openFilm (folder.path ("noise.mov")));
    checkRefused ("/dev/null", "not a file on a disk");

    run ("ffmpeg -nostdin -y -v error -f lavfi -t 1 -i sine " + quoted (folder.path ("tone.wav")));
    checkRefused (folder.path ("tone.wav"), "sound but no picture");
    run ("ffmpeg -nostdin -y -v error -f lavfi -t 1 -i sine -c:a aac " + quoted (folder.path ("tone.mp4")));
    checkRefused (folder.path ("tone.mp4"), "sound but no picture");
}

TEST_CASE ("films that are cut short are refused where that can be proved")
{
    TestFolder folder;
    const auto cut = [&] (const std::string& path, double share)
    {
        const auto bytes = bytesOf (path);
        const auto name = path + ".part";
        writeBytes (name, bytes.substr (0, static_cast<std::size_t> (static_cast<double> (bytes.size()) * share)));
        return name;
    };
    const auto late = encode (folder, "late.mp4", "-c:v libx264 -bf 2");
    checkRefused (cut (late, 0.6), "cut short");
    const auto early = remake (folder, late, "early.mp4", "", "-c copy -movflags +faststart");
    checkRefused (cut (early, 0.6), "its table lists 100 pictures");
    checkRefused (cut (early, 0.98), "its table lists 100 pictures");
    checkRefused (cut (early, 0.05), "cut short");
    checkRefused (cut (remake (folder, late, "a.mkv", "", "-c copy"), 0.6), "cut short");
    checkRefused (cut (encode (folder, "a.avi", "-c:v mjpeg"), 0.6), "cut short");

    // A transport stream has no stated end: what is there is shown.
    const auto info = media::openFilm (cut (remake (folder, late, "a.ts", "", "-c copy"), 0.6));
    REQUIRE (info);
    CHECK (info->frames > 30);
    CHECK (info->frames < 90);
}

TEST_CASE ("a film without pictures is refused")
{
    TestFolder folder;
    const auto film = encode (folder, "a.mp4", "-c:v libx264", "25", 10);
    const auto nothing = folder.path ("nothing.mkv");
    run ("ffmpeg -nostdin -y -v quiet -i " + quoted (film) + " -c copy -frames:v 0 " + quoted (nothing) + " || true");
    if (std::filesystem::exists (nothing) && std::filesystem::file_size (nothing) > 0)
        CHECK_FALSE (media::openFilm (nothing));
}

TEST_CASE ("no damage to the bytes of a film makes opening or reading it crash")
{
    TestFolder folder;
    std::mt19937 random (11);
    for (const char* name : { "x.mp4", "x.mkv", "x.ts", "x.avi" })
    {
        const auto whole = bytesOf (encode (folder, name, "-c:v libx264 -g 12 -bf 2", "25", 30));
        for (int round = 0; round < 12; ++round)
        {
            auto bytes = whole;
            for (int i = 0; i < 40; ++i)
                bytes[random() % bytes.size()] = static_cast<char> (random());
            const auto path = folder.path (std::string ("broken-") + name);
            writeBytes (path, bytes);
            auto reader = media::FrameReader::open (path);
            if (! reader)
            {
                CHECK (reader.error().where == path);
                continue;
            }
            const auto frames = (*reader)->info().frames;
            CHECK (frames > 0);
            for (const auto k : { frames - 1, frames / 2, std::int64_t (0) })
                CHECK ((*reader)->greyFrame (k, 16, 12));
        }
    }
}
