#pragma once

#include "film/GreyPicture.h"
#include "media/GreyShrink.h"
#include "media/Libav.h"
#include "media/Picture.h"
#include "time/Result.h"

#include <string>
#include <vector>

namespace shutterbeat::media
{
/// Turns decoded pictures into those that the rest of the program sees: scaled, upright, in RGB or grey. The same on
/// every machine. Keeps its tables from picture to picture; one thread at a time.
class FramePainter
{
public:
    /// path: named in errors. rotation: FilmInfo::rotation.
    FramePainter (std::string path, int rotation)
        : name (std::move (path))
        , turn (rotation)
    {
    }

    /// width x height as displayed, each at least 1. Error unreadable: a pixel format that can't be converted.
    Result<Picture> colour (const AVFrame& frame, int width, int height);
    Result<film::GreyPicture> grey (const AVFrame& frame, int width, int height);

private:
    Result<Done> convert (const AVFrame& frame, int width, int height, AVPixelFormat format, ScalerHandle& scaler,
                          std::vector<std::uint8_t>& into);

    std::string name;
    int turn;
    ScalerHandle colourScaler;
    ScalerHandle greyScaler;
    GreyShrink shrink;
};
} // namespace shutterbeat::media
