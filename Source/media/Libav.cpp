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

std::string libavText (int code)
{
    std::array<char, AV_ERROR_MAX_STRING_SIZE> text{};
    av_strerror (code, text.data(), text.size());
    return text.data();
}
} // namespace shutterbeat::media
