#include "media/IndexCache.h"

#include "Catch.h"
#include "media/NumberedFilm.h"

#include <cstdlib>
#include <filesystem>
#include <random>

using namespace shutterbeat;
using namespace shutterbeat::tests;
namespace fs = std::filesystem;

namespace
{
/// The cache in a folder of its own while it lives.
class CacheAt
{
public:
    explicit CacheAt (const std::string& folder)
        : before (std::getenv ("XDG_CACHE_HOME") != nullptr ? std::getenv ("XDG_CACHE_HOME") : "")
    {
        ::setenv ("XDG_CACHE_HOME", folder.c_str(), 1);
    }
    CacheAt (const CacheAt&) = delete;
    CacheAt& operator= (const CacheAt&) = delete;
    ~CacheAt() { ::setenv ("XDG_CACHE_HOME", before.c_str(), 1); }

private:
    std::string before;
};

media::KnownFilm known (const std::string& path)
{
    auto info = media::openFilm (path);
    auto index = media::readFrameIndex (path);
    INFO (path);
    REQUIRE (info);
    REQUIRE (index);
    return { *info, *index };
}

std::vector<fs::path> entries()
{
    std::vector<fs::path> found;
    std::error_code none;
    for (fs::directory_iterator at (media::indexCacheFolder(), none), end; ! none && at != end; ++at)
        found.push_back (at->path());
    return found;
}
} // namespace

TEST_CASE ("an index comes out of its bytes as it went in")
{
    TestFolder folder;
    for (const auto& [name, options] :
         { std::pair ("a.mp4", "-c:v libx264 -g 30 -bf 2"), std::pair ("a.ts", "-c:v mpeg2video -g 12 -bf 2"),
           std::pair ("a.264", "-c:v libx264 -g 30 -bf 3"), std::pair ("a.avi", "-c:v mpeg4 -g 30 -bf 2"),
           std::pair ("a.mov", "-c:v libx264 -timecode 01:00:00:00 -metadata:s:v reel_name=R2") })
    {
        INFO (name);
        const auto film = known (encode (folder, name, options, "25", 60));
        const auto bytes = media::encodeIndex (film);
        const auto back = media::decodeIndex (bytes);
        REQUIRE (back);
        CHECK (media::encodeIndex (*back) == bytes);
        CHECK (back->info.identity == film.info.identity);
        CHECK (back->info.rate == film.info.rate);
        CHECK (back->info.startLabel == film.info.startLabel);
        CHECK (back->info.warnings == film.info.warnings);
        CHECK (back->index.keys == film.index.keys);
        CHECK (back->index.reorder == film.index.reorder);
        REQUIRE (back->index.packets.size() == film.index.packets.size());
        for (std::size_t i = 0; i < film.index.packets.size(); ++i)
        {
            const auto& one = film.index.packets[i];
            const auto& two = back->index.packets[i];
            CHECK (std::tie (one.pts, one.dts, one.pos, one.frame, one.type)
                   == std::tie (two.pts, two.dts, two.pos, two.frame, two.type));
            CHECK ((one.key == two.key && one.hidden == two.hidden && one.secondField == two.secondField));
        }
        for (std::size_t k = 0; k < film.index.frames.size(); ++k)
        {
            CHECK (back->index.frames[k].pts == film.index.frames[k].pts);
            CHECK (back->index.frames[k].packet == film.index.frames[k].packet);
            CHECK (back->index.frames[k].key == film.index.frames[k].key);
        }
    }
}

TEST_CASE ("bytes that are not whole to the last one are no index")
{
    TestFolder folder;
    auto film = known (encode (folder, "a.mp4", "-c:v libx264 -bf 2", "25", 20));
    const auto bytes = media::encodeIndex (film);
    CHECK_FALSE (media::decodeIndex (""));
    for (std::size_t length = 0; length < bytes.size(); ++length)
        CHECK_FALSE (media::decodeIndex (bytes.substr (0, length)));
    CHECK_FALSE (media::decodeIndex (bytes + "x"));
    for (std::size_t at = 0; at < bytes.size(); ++at)
    {
        auto other = bytes;
        other[at] = static_cast<char> (other[at] ^ 16);
        CHECK_FALSE (media::decodeIndex (other));
    }
    // Every bit of the sum at the end, whose last byte holds one bit or none.
    for (int other = 0; other < 16; ++other)
    {
        film.info.identity = std::to_string (other);
        const auto whole = media::encodeIndex (film);
        REQUIRE (media::decodeIndex (whole));
        for (std::size_t bit = 0; bit < 80; ++bit)
        {
            auto flipped = whole;
            auto& byte = flipped[flipped.size() - 1 - bit / 8];
            byte = static_cast<char> (byte ^ 1 << bit % 8);
            CHECK_FALSE (media::decodeIndex (flipped));
        }
    }
    std::mt19937 random (3);
    for (int round = 0; round < 200; ++round)
    {
        std::string noise = bytes.substr (0, 21);
        for (int i = 0; i < 300; ++i)
            noise.push_back (static_cast<char> (random()));
        CHECK_FALSE (media::decodeIndex (noise));
    }
}

TEST_CASE ("a film is read through once, and again when it changes")
{
    TestFolder folder;
    const CacheAt cache (folder.path ("cache"));
    const auto film = encode (folder, "a.mp4", "-c:v libx264 -g 20 -bf 2", "25", 50);
    const auto first = known (film);
    REQUIRE (entries().size() == 1);

    // What is in the cache is what is answered: a mark put there comes back.
    auto marked = first;
    marked.info.warnings.emplace_back ("marked");
    media::writeCachedIndex (film, marked);
    REQUIRE (entries().size() == 1);
    CHECK (known (film).info.warnings == std::vector<std::string>{ "marked" });
    auto reader = media::FrameReader::open (film);
    REQUIRE (reader);
    CHECK ((*reader)->info().warnings == std::vector<std::string>{ "marked" });
    CHECK (look (**reader, 33).number == 33);

    // Moved: still known. The path is where it lies now.
    const auto moved = folder.path ("moved.mp4");
    fs::rename (film, moved);
    CHECK (known (moved).info.warnings.size() == 1);
    CHECK (known (moved).info.path == moved);

    // Written again with the same bytes where the identity looks, even with the same size: no longer known.
    fs::last_write_time (moved, fs::last_write_time (moved) + std::chrono::seconds (2));
    CHECK (known (moved).info.warnings.empty());
    const auto other = encode (folder, "b.mp4", "-c:v libx264 -g 20 -bf 2", "25", 40);
    fs::copy_file (other, moved, fs::copy_options::overwrite_existing);
    CHECK (known (moved).info.frames == 40);
}

TEST_CASE ("a damaged cache is passed over and made anew")
{
    TestFolder folder;
    const CacheAt cache (folder.path ("cache"));
    const auto film = encode (folder, "a.mp4", "-c:v libx264 -g 20 -bf 2", "25", 50);
    const auto first = media::encodeIndex (known (film));
    for (const std::string& bytes : { std::string(), first.substr (0, first.size() / 2), std::string (100000, 'x') })
    {
        REQUIRE (entries().size() == 1);
        writeBytes (entries().front().string(), bytes);
        CHECK (known (film).info.frames == 50);
        REQUIRE (entries().size() == 1);
        CHECK (bytesOf (entries().front().string()) == first);
    }
    // An index that is sound but of another film.
    auto foreign = known (encode (folder, "b.mp4", "-c:v libx264", "25", 10));
    for (const auto& entry : entries())
        writeBytes (entry.string(), media::encodeIndex (foreign));
    CHECK (known (film).info.frames == 50);
}

TEST_CASE ("films open without a cache that can be written")
{
    TestFolder folder;
    const auto film = encode (folder, "a.mp4", "-c:v libx264 -g 20 -bf 2", "25", 20);
    writeBytes (folder.path ("file"), "in the way");
    const CacheAt cache (folder.path ("file"));
    CHECK (known (film).info.frames == 20);
    CHECK (bytesOf (folder.path ("file")) == "in the way");
    CHECK_FALSE (media::readCachedIndex (film, known (film).info.identity));
}

TEST_CASE ("a film from the cache shows every frame exactly")
{
    TestFolder folder;
    const CacheAt cache (folder.path ("cache"));
    for (const auto& [name, options] :
         { std::pair ("a.ts", "-c:v libx264 -g 40 -bf 2"), std::pair ("a.mkv", "-c:v libx264 -g 40 -bf 2"),
           std::pair ("a.mpg", "-c:v mpeg2video -g 12 -bf 2 -q:v 3 -f vob"), std::pair ("a.264", "-c:v libx264 -g 30 -bf 3"),
           std::pair ("a.avi", "-c:v libx264 -g 30 -bf 2"), std::pair ("a.flv", "-c:v libx264 -g 30 -bf 2") })
    {
        INFO (name);
        const auto film = encode (folder, name, options);
        std::vector<Seen> straight;
        {
            const CacheAt none ("/dev/null");
            straight = inOrder (film);
        }
        REQUIRE (straight.size() == 100);
        REQUIRE (media::openFilm (film));
        REQUIRE (media::readCachedIndex (film, media::openFilm (film)->identity));
        CHECK (inOrder (film) == straight);
        CHECK (compareWays (film, straight, 40) == "");
    }
}
