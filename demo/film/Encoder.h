#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::demo
{

/// Writes a silent 640x480 MP4 at 25 frames a second, start timecode 01:00:00:00. The file has its name only when whole.
/// Calls that can fail give back a sentence, or nothing when all is well.
class Encoder
{
public:
    Encoder();
    ~Encoder();
    Encoder (const Encoder&) = delete;
    Encoder& operator= (const Encoder&) = delete;

    std::optional<std::string> open (const std::string& path, int toneU, int toneV);
    /// Appends one file frame of luma, 640 by 480; `repeats` tells that it is the same as the one before.
    std::optional<std::string> write (const std::vector<std::uint8_t>& luma, bool repeats);
    std::optional<std::string> finish();
    /// False where H.264 was not to be had and MPEG-4 stands in.
    bool isH264() const;

private:
    struct State;
    std::optional<std::string> drain();
    std::unique_ptr<State> state_;
};

} // namespace shutterbeat::demo
