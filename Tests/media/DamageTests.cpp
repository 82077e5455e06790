#include "media/FrameIndex.h"
#include "media/FrameReader.h"

#include "Catch.h"
#include "media/NumberedFilm.h"

#include <algorithm>
#include <set>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// The film with bytes of chosen packets (in decoding order) overwritten, header bytes of each included when `wholly`.
std::string spoil (const TestFolder& folder, const std::string& film, const std::vector<std::size_t>& packets, bool wholly)
{
    const auto index = media::readFrameIndex (film);
    REQUIRE (index);
    auto bytes = bytesOf (film);
    for (const auto number : packets)
    {
        REQUIRE (number + 1 < index->packets.size());
        const auto begin = static_cast<std::size_t> (index->packets[number].pos);
        const auto end = static_cast<std::size_t> (index->packets[number + 1].pos);
        REQUIRE (end > begin + 8);
        // The length in front of the data stays, so that the packet is still one.
        const auto from = wholly ? begin + 4 : begin + (end - begin) / 2;
        for (auto at = from; at < end; ++at)
            bytes[at] = wholly ? '\0' : static_cast<char> (at * 37 + 11);
    }
    const auto path = folder.path ("spoiled" + film.substr (film.rfind ('.')));
    writeBytes (path, bytes);
    return path;
}
} // namespace

TEST_CASE ("a frame that can't be decoded keeps its place")
{
    TestFolder folder;
    const auto film = encode (folder, "a.mp4", "-c:v libx264 -g 20 -bf 2");
    const auto index = media::readFrameIndex (film);
    REQUIRE (index);
    // One picture on which nothing hangs.
    std::size_t lonely = 0;
    for (std::size_t i = 41; lonely == 0 && i < 58; ++i)
        if (index->packets[i].type == media::PictureType::between && index->packets[i].frame < index->packets[i - 1].frame)
            lonely = i;
    REQUIRE (lonely > 0);
    const auto path = spoil (folder, film, { lonely }, true);
    const auto straight = inOrder (path);
    REQUIRE (straight.size() == 100);
    const auto gone = index->packets[lonely].frame;
    CHECK (straight[static_cast<std::size_t> (gone)].damaged);
    for (std::int64_t k = 0; k < 100; ++k)
        if (index->decodeStart (k) != index->decodeStart (gone))
        {
            CHECK (straight[static_cast<std::size_t> (k)].number == k);
            CHECK_FALSE (straight[static_cast<std::size_t> (k)].damaged);
        }
    CHECK (compareWays (path, straight) == "");
}

TEST_CASE ("damaged pictures look the same however one comes to them")
{
    TestFolder folder;
    const auto check = [&] (const std::string& film, const std::vector<std::size_t>& packets, bool wholly)
    {
        INFO (film << (wholly ? " wholly" : " in part") << ", from packet " << packets.front());
        const auto path = spoil (folder, film, packets, wholly);
        const auto straight = inOrder (path);
        REQUIRE (straight.size() == 100);
        CHECK (std::count_if (straight.begin(), straight.end(), [] (const Seen& seen) { return seen.damaged; }) > 0);
        CHECK (straight[99].number == 99);
        // The quick pass may conceal damage otherwise; its slots are checked elsewhere.
        auto backward = media::FrameReader::open (path);
        REQUIRE (backward);
        for (std::int64_t k = 99; k >= 0; --k)
            if (look (**backward, k) != straight[static_cast<std::size_t> (k)])
                FAIL ("back " << k << " differs, number " << straight[static_cast<std::size_t> (k)].number);
        for (const std::int64_t k : { 45, 3, 60, 41, 25, 80, 40, 59, 22, 38, 61 })
        {
            auto fresh = media::FrameReader::open (path);
            REQUIRE (fresh);
            if (look (**fresh, k) != straight[static_cast<std::size_t> (k)])
                FAIL ("jump to " << k << " differs");
        }
    };
    const auto film = encode (folder, "a.mp4", "-c:v libx264 -g 20 -bf 2");
    // Leaving out what nobody asked for: pictures that hang on the damage are the same damaged ones.
    {
        const auto path = spoil (folder, film, { 40 }, false);
        const auto straight = inOrder (path);
        auto told = media::FrameReader::open (path);
        REQUIRE (told);
        const std::set<std::int64_t> some{ 5, 38, 39, 41, 45, 46, 52, 61, 62, 90 };
        (*told)->onlyThese (some);
        for (const auto k : some)
            if (look (**told, k) != straight[static_cast<std::size_t> (k)])
                FAIL ("frame " << k << " differs");
    }
    check (film, { 43, 44, 52 }, false);
    check (film, { 43, 44, 52 }, true);
    check (film, { 40 }, false);
    check (film, { 40 }, true);
    check (encode (folder, "m.mov", "-c:v mpeg2video -g 12 -bf 2 -q:v 3"), { 36, 50 }, false);
    check (encode (folder, "j.mov", "-c:v mjpeg -q:v 3"), { 50 }, true);
}
