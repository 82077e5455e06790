#pragma once

#include "film/GreyPicture.h"
#include "media/FrameReader.h"

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

/// Small films made with the ffmpeg command line, every picture of which carries its number as black and white blocks.
namespace shutterbeat::tests
{
constexpr int filmWidth = 160;
constexpr int filmHeight = 120;

/// A folder that is gone when the test is.
class TestFolder
{
public:
    TestFolder();
    ~TestFolder();
    TestFolder (const TestFolder&) = delete;
    TestFolder& operator= (const TestFolder&) = delete;
    [[nodiscard]] std::string path (const std::string& name) const { return (folder / name).string(); }

private:
    std::filesystem::path folder;
};

/// Runs a command; the test fails when it does.
void run (const std::string& command);
/// For the shell: the text as one word.
std::string quoted (const std::string& text);

/// Pictures 0 to count - 1 as raw yuv420p; a moving pattern below the number, no two alike.
std::string rawPictures (const TestFolder& folder, int count);
/// Encodes those with ffmpeg: `options` go between input and output. Returns the file's path.
std::string encode (const TestFolder& folder, const std::string& name, const std::string& options, const std::string& rate = "25",
                    int count = 100);
/// Runs ffmpeg with an existing film: "ffmpeg before -i film after target".
std::string remake (const TestFolder& folder, const std::string& film, const std::string& name, const std::string& before,
                    const std::string& after);
bool hasEncoder (const std::string& name);

/// The number in the blocks of a picture of filmWidth x filmHeight, or -1 when they can't be read.
int numberIn (const film::GreyPicture& picture);

/// What one frame looked like.
struct Seen
{
    std::uint64_t hash = 0;
    bool damaged = false;
    int number = -1;
    friend bool operator== (const Seen&, const Seen&) = default;
};
Seen look (media::FrameReader& reader, std::int64_t k);
std::uint64_t hashOf (const std::vector<std::uint8_t>& bytes);

/// Every frame in order with a fresh reader.
std::vector<Seen> inOrder (const std::string& path);
/// Compares with `straight`: the grey pass, backward, and `jumps` random frames (each way also with hardly any memory, then
/// at most 100 jumps).
/// Returns what differed, in words; empty when nothing did.
std::string compareWays (const std::string& path, const std::vector<Seen>& straight, int jumps = 100);

bool contains (const std::string& text, const std::string& part);
std::string bytesOf (const std::string& path);
void writeBytes (const std::string& path, const std::string& bytes);
} // namespace shutterbeat::tests
