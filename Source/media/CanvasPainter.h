#pragma once

#include "media/Canvas.h"
#include "media/Libav.h"
#include "time/Result.h"

#include <string>

namespace shutterbeat::media
{
/// Scales decoded pictures onto canvases, upright and in the colours of ITU-R BT.709. Keeps its tables from picture to
/// picture; one thread at a time.
class CanvasPainter
{
public:
    /// path: named in errors. rotation: FilmInfo::rotation.
    CanvasPainter (std::string path, int rotation)
        : name (std::move (path))
        , turn (rotation)
    {
    }

    /// The area has even edges and lies on the canvas. Error unreadable: a pixel format that can't be converted.
    Result<Done> paint (const AVFrame& frame, Canvas& canvas, const Area& area);

private:
    Result<Done> scale (const AVFrame& frame, ScalerHandle& scaler, AVFrame& into);
    Result<Done> turned (const AVFrame& frame, AVFrame& into);

    std::string name;
    int turn;
    ScalerHandle scaler;
    ScalerHandle afterTurn;
};
} // namespace shutterbeat::media
