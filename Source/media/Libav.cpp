#include "media/Libav.h"

extern "C"
{
#include <libavutil/error.h>
#include <libavutil/log.h>
}

#include <array>

namespace shutterbeat::media
{
void silenceLibav()
{
    av_log_set_level (AV_LOG_QUIET);
}

int openLocal (AVFormatContext*& raw, const std::string& path, const AVInputFormat* kind)
{
    AVDictionary* options = nullptr;
    av_dict_set (&options, "protocol_whitelist", "file", 0);
    const int code = avformat_open_input (&raw, ("file:" + path).c_str(), kind, &options);
    av_dict_free (&options);
    return code;
}

std::string libavText (int code)
{
    std::array<char, AV_ERROR_MAX_STRING_SIZE> text{};
    av_strerror (code, text.data(), text.size());
    return text.data();
}
} // namespace shutterbeat::media
