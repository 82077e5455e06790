#pragma once

#include <string>
#include <vector>

namespace shutterbeat::media
{
/// One thing that libav has to be able to do here, and whether this build of it can.
struct CodecCheck
{
    std::string what; ///< "H.264"
    bool writing = false;
    bool there = false;
};

/// The kinds of picture and sound that films and sounds come in, and those that are written.
std::vector<CodecCheck> checkCodecs();

/// The version that FFmpeg's libraries give themselves: "5.1.6-0+deb12u1".
std::string libavVersion();
} // namespace shutterbeat::media
