#include "media/FilmFile.h"
#include "media/FrameReader.h"
#include "media/SoundReader.h"

#include "Catch.h"
#include "media/NumberedFilm.h"

#include <algorithm>
#include <arpa/inet.h>
#include <filesystem>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
constexpr int pictures = 40;

struct DamagedKind
{
    const char* name;
    const char* options;
};
constexpr DamagedKind kinds[]{ { "a.mp4", "-c:v libx264 -preset ultrafast -g 12 -bf 2 -movflags +faststart" },
                               { "a.mov", "-c:v mpeg2video -q:v 4 -g 12 -bf 2" },
                               { "a.ts", "-c:v mpeg2video -q:v 4 -g 12" },
                               { "a.mkv", "-c:v libx264 -preset ultrafast -g 12" },
                               { "a.avi", "-c:v mjpeg -q:v 4" } };

/// Every frame that the file says it has can be asked for and gives a picture, damaged or not; or there is one clear error.
/// Says how many frames there were, or nothing.
std::optional<std::int64_t> looksThrough (const std::string& path)
{
    auto reader = media::FrameReader::open (path);
    if (! reader)
    {
        CHECK (reader.error().code == ErrorCode::unreadable);
        CHECK (reader.error().where == path);
        CHECK_FALSE (reader.error().message.empty());
        return {};
    }
    const auto frames = (*reader)->info().frames;
    CHECK (frames > 0);
    CHECK (frames < 10 * pictures);
    for (std::int64_t k = 0; k < frames; ++k)
        if (const auto picture = (*reader)->greyFrame (k, filmWidth, filmHeight); ! picture)
            CHECK (picture.error().code == ErrorCode::unreadable);
    return frames;
}

/// Every third byte from `first` on turned into another.
std::string everyThirdChanged (std::string bytes, std::size_t first)
{
    for (std::size_t at = first; at < bytes.size(); at += 3)
        bytes[at] = static_cast<char> (bytes[at] ^ (0x5A + at % 97));
    return bytes;
}
} // namespace

TEST_CASE ("A film with every third byte damaged opens or is refused, and its frames keep their places")
{
    const TestFolder folder;
    for (const auto& kind : kinds)
    {
        INFO (kind.name);
        const auto film = encode (folder, kind.name, kind.options, "25", pictures);
        const auto bytes = bytesOf (film);
        const auto path = folder.path ("spoiled-" + std::string (kind.name));
        writeBytes (path, everyThirdChanged (bytes, 0));
        looksThrough (path);
        // With the table of pictures whole, and only they themselves spoiled, none loses its number.
        const auto index = media::readFrameIndex (film);
        REQUIRE (index);
        if (std::string (kind.name) == "a.mp4")
        {
            const auto first = std::min_element (index->packets.begin(), index->packets.end(),
                                                 [] (const auto& a, const auto& b) { return a.pos < b.pos; })
                                   ->pos;
            REQUIRE (first > 0);
            writeBytes (path, everyThirdChanged (bytes, static_cast<std::size_t> (first)));
            CHECK (looksThrough (path) == pictures);
        }
    }
}

TEST_CASE ("A film cut at fifty places opens with what is there or is refused")
{
    const TestFolder folder;
    int opened = 0; // of a stream what is there; a container whose table says more than there is, is refused
    for (const auto& kind : kinds)
    {
        const auto bytes = bytesOf (encode (folder, kind.name, kind.options, "25", pictures));
        const auto path = folder.path ("cut-" + std::string (kind.name));
        for (std::size_t cut = 0; cut < 50; ++cut)
        {
            const auto length = bytes.size() * cut / 50 + cut % 7;
            INFO (kind.name << " cut after " << length << " of " << bytes.size() << " bytes");
            writeBytes (path, bytes.substr (0, length));
            if (const auto frames = looksThrough (path))
            {
                ++opened;
                CHECK (*frames <= pictures);
            }
        }
    }
    CHECK (opened > 0);
    CHECK (opened < 250);
}

TEST_CASE ("A film that vanishes, shrinks or grows while it is open gives pictures or an error, never a crash")
{
    const TestFolder folder;
    const auto film = encode (folder, "a.mkv", "-c:v libx264 -preset ultrafast -g 12", "25", pictures);
    const auto bytes = bytesOf (film);
    const auto straight = inOrder (film);
    const auto readAll = [&] (media::FrameReader& reader)
    {
        int good = 0;
        for (std::int64_t k = 0; k < pictures; ++k)
        {
            const auto picture = reader.greyFrame (k, filmWidth, filmHeight);
            good += picture && numberIn (*picture) == k ? 1 : 0;
        }
        return good;
    };
    SECTION ("vanishes")
    {
        auto reader = media::FrameReader::open (film, 0);
        REQUIRE (reader);
        std::filesystem::remove (film);
        CHECK (readAll (**reader) == pictures); // an open file is there until it is closed
        CHECK (media::FrameReader::open (film).error().code == ErrorCode::unreadable);
    }
    SECTION ("shrinks")
    {
        auto reader = media::FrameReader::open (film, 0);
        REQUIRE (reader);
        std::filesystem::resize_file (film, bytes.size() / 3);
        const int good = readAll (**reader);
        CHECK (good < pictures);
    }
    SECTION ("grows")
    {
        auto reader = media::FrameReader::open (film, 0);
        REQUIRE (reader);
        writeBytes (film, bytes + bytes);
        CHECK (readAll (**reader) == pictures);
        CHECK ((*reader)->info().frames == pictures);
    }
}

TEST_CASE ("A playlist that calls itself a film or a sound is kept off the network")
{
    // Somebody who would answer if he were asked.
    const int listener = ::socket (AF_INET, SOCK_STREAM | SOCK_NONBLOCK, 0);
    REQUIRE (listener >= 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl (INADDR_LOOPBACK);
    REQUIRE (::bind (listener, reinterpret_cast<const sockaddr*> (&address), sizeof address) == 0);
    REQUIRE (::listen (listener, 4) == 0);
    socklen_t length = sizeof address;
    REQUIRE (::getsockname (listener, reinterpret_cast<sockaddr*> (&address), &length) == 0);
    const auto host = "http://127.0.0.1:" + std::to_string (ntohs (address.sin_port)) + "/a.ts";
    const TestFolder folder;
    const auto list = "#EXTM3U\n#EXT-X-VERSION:3\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\n" + host + "\n#EXT-X-ENDLIST\n";
    for (const char* name : { "film.mp4", "film.m3u8", "sound.wav", "sound.m3u8" })
    {
        INFO (name);
        writeBytes (folder.path (name), list);
        CHECK_FALSE (media::openFilm (folder.path (name)).ok());
        CHECK_FALSE (media::openSound (folder.path (name)).ok());
    }
    CHECK_FALSE (media::openFilm (host).ok());
    CHECK_FALSE (media::openSound (host).ok());
    CHECK (::accept (listener, nullptr, nullptr) < 0); // nobody came
    ::close (listener);
}
