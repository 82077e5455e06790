#include "media/NumberedFilm.h"

#include "Catch.h"
#include "media/GreyPass.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <memory>
#include <random>
#include <unistd.h>

namespace shutterbeat::tests
{
namespace
{
constexpr int bits = 12;
constexpr int block = 24;
constexpr int margin = 8;
constexpr int numberAcross = 6;

/// An index cache for these tests alone, so that no test is answered from what an earlier build found out.
class OwnCache
{
public:
    OwnCache()
    {
        auto pattern = (std::filesystem::temp_directory_path() / "shutterbeat-cache-XXXXXX").string();
        if (::mkdtemp (pattern.data()) == nullptr)
            return;
        folder = pattern;
        ::setenv ("XDG_CACHE_HOME", pattern.c_str(), 1);
    }
    OwnCache (const OwnCache&) = delete;
    OwnCache& operator= (const OwnCache&) = delete;
    ~OwnCache()
    {
        std::error_code ignored;
        if (! folder.empty())
            std::filesystem::remove_all (folder, ignored);
    }

private:
    std::filesystem::path folder;
} const ownCache;
} // namespace

TestFolder::TestFolder()
{
    auto pattern = (std::filesystem::temp_directory_path() / "shutterbeat-media-XXXXXX").string();
    REQUIRE (::mkdtemp (pattern.data()) != nullptr);
    folder = pattern;
}

TestFolder::~TestFolder()
{
    std::error_code ignored;
    std::filesystem::remove_all (folder, ignored);
}

void run (const std::string& command)
{
    INFO (command);
    REQUIRE (std::system (command.c_str()) == 0);
}

std::string quoted (const std::string& text)
{
    std::string word = "'";
    for (const char letter : text)
        word += letter == '\'' ? std::string ("'\\''") : std::string (1, letter);
    return word + "'";
}

std::string rawPictures (const TestFolder& folder, int count)
{
    const auto path = folder.path ("pictures-" + std::to_string (count) + ".yuv");
    if (std::filesystem::exists (path))
        return path;
    std::string all;
    for (int k = 0; k < count; ++k)
    {
        std::string luma (std::size_t (filmWidth) * filmHeight, '\0');
        for (int y = 0; y < filmHeight; ++y)
            for (int x = 0; x < filmWidth; ++x)
            {
                int level = 40 + (2 * x + y + 3 * k) % 150;
                const int column = (x - margin) / block;
                const int row = (y - margin) / block;
                if (x >= margin && y >= margin && column < numberAcross && row < bits / numberAcross)
                    level = ((k >> (row * numberAcross + column)) & 1) != 0 ? 235 : 16;
                luma[std::size_t (y) * filmWidth + std::size_t (x)] = static_cast<char> (level);
            }
        all += luma + std::string (std::size_t (filmWidth) * filmHeight / 4, static_cast<char> (100 + k * 5 % 60))
               + std::string (std::size_t (filmWidth) * filmHeight / 4, static_cast<char> (150 - k * 3 % 40));
    }
    writeBytes (path, all);
    return path;
}

std::string encode (const TestFolder& folder, const std::string& name, const std::string& options, const std::string& rate,
                    int count)
{
    const auto path = folder.path (name);
    run ("ffmpeg -nostdin -y -v error -f rawvideo -pix_fmt yuv420p -s 160x120 -r " + rate + " -i "
         + quoted (rawPictures (folder, count)) + " " + options + " " + quoted (path));
    return path;
}

std::string remake (const TestFolder& folder, const std::string& film, const std::string& name, const std::string& before,
                    const std::string& after)
{
    const auto path = folder.path (name);
    run ("ffmpeg -nostdin -y -v error " + before + " -i " + quoted (film) + " " + after + " " + quoted (path));
    return path;
}

bool hasEncoder (const std::string& name)
{
    return std::system (("ffmpeg -v error -encoders 2>/dev/null | grep -q ' " + name + " '").c_str()) == 0;
}

int numberIn (const film::GreyPicture& picture)
{
    if (picture.width != filmWidth || picture.height != filmHeight)
        return -1;
    int number = 0;
    for (int bit = 0; bit < bits; ++bit)
    {
        const int level =
            picture.at (margin + bit % numberAcross * block + block / 2, margin + bit / numberAcross * block + block / 2);
        if (level > 90 && level < 165)
            return -1;
        number |= level > 127 ? 1 << bit : 0;
    }
    return number;
}

std::uint64_t hashOf (const std::vector<std::uint8_t>& bytes)
{
    std::uint64_t hash = 14695981039346656037ULL; // FNV-1a
    for (const auto byte : bytes)
        hash = (hash ^ byte) * 1099511628211ULL;
    return hash;
}

Seen look (media::FrameReader& reader, std::int64_t k)
{
    const auto picture = reader.greyFrame (k, filmWidth, filmHeight);
    INFO ("frame " << k << (picture ? "" : picture.error().text()));
    REQUIRE (picture);
    return { hashOf (picture->pixels), picture->damaged, numberIn (*picture) };
}

std::vector<Seen> inOrder (const std::string& path)
{
    auto reader = media::FrameReader::open (path);
    INFO ((reader ? "" : reader.error().text()));
    REQUIRE (reader);
    std::vector<Seen> all;
    for (std::int64_t k = 0; k < (*reader)->info().frames; ++k)
        all.push_back (look (**reader, k));
    return all;
}

std::string compareWays (const std::string& path, const std::vector<Seen>& straight, int jumps)
{
    std::string found;
    const auto compare = [&] (const std::string& way, std::int64_t k, const Seen& seen)
    {
        if (seen != straight[static_cast<std::size_t> (k)] && found.size() < 400)
            found +=
                way + " " + std::to_string (k) + " shows " + std::to_string (seen.number) + (seen.damaged ? " damaged; " : "; ");
    };
    std::int64_t next = 0;
    const auto pass =
        media::forEachGrey (path, filmWidth, filmHeight,
                            [&] (std::int64_t k, const film::GreyPicture& picture)
                            {
                                if (k != next++ || k >= static_cast<std::int64_t> (straight.size()))
                                    found += "pass out of order at " + std::to_string (k) + "; ";
                                else
                                    compare ("pass", k, { hashOf (picture.pixels), picture.damaged, numberIn (picture) });
                                return true;
                            });
    if (! pass || next != static_cast<std::int64_t> (straight.size()))
        found += "pass ended at " + std::to_string (next) + "; ";

    std::mt19937 random (20);
    for (const std::size_t memory : { std::size_t (1) << 30, std::size_t (100000) })
    {
        auto backward = media::FrameReader::open (path, memory);
        auto jumping = media::FrameReader::open (path, memory);
        if (! backward || ! jumping)
            return "can't be opened again";
        // With no memory every step back decodes a group anew: the last third is enough.
        const auto last = static_cast<std::int64_t> (straight.size()) - 1;
        for (auto k = last; k >= (memory > 1000000 ? 0 : last * 2 / 3); --k)
            compare ("back", k, look (**backward, k));
        for (int i = 0; i < (memory > 1000000 ? jumps : std::min (jumps, 100)); ++i)
        {
            const auto k = static_cast<std::int64_t> (random() % straight.size());
            compare ("jump", k, look (**jumping, k));
        }
    }
    return found;
}

bool contains (const std::string& text, const std::string& part)
{
    return text.find (part) != std::string::npos;
}

std::string bytesOf (const std::string& path)
{
    std::ifstream file (path, std::ios::binary);
    return { std::istreambuf_iterator<char> (file), std::istreambuf_iterator<char>() };
}

void writeBytes (const std::string& path, const std::string& bytes)
{
    std::ofstream file (path, std::ios::binary);
    file << bytes;
    REQUIRE (file.flush());
}
} // namespace shutterbeat::tests
