#pragma once

#include "film/GreyPicture.h"
#include "media/Libav.h"

#include <cstdint>
#include <vector>

namespace shutterbeat::media
{
/// Brings the brightness plane of decoded pictures to a small size: every target pixel is the mean of exactly the area
/// it covers. Keeps its tables from picture to picture.
class GreyShrink
{
public:
    /// Whether a format has a brightness plane of its own that can be read directly (planar YUV and grey, 8 to 16 bit).
    static bool canRead (const AVFrame& frame);

    /// Only when canRead (frame); width and height at least 1. Black is 0 and white 255 whatever range the file uses.
    void shrink (const AVFrame& frame, int width, int height, film::GreyPicture& into);

private:
    /// What one target row or column is made of: `count` source ones from `first`, weights from `weights` on.
    struct Cover
    {
        int first = 0;
        int count = 0;
        std::size_t weights = 0;
    };
    struct Axis
    {
        int source = 0;
        int target = 0;
        std::vector<Cover> covers;
        std::vector<std::uint32_t> weights; ///< of each cover they add to 4096
        void prepare (int sourceSize, int targetSize);
    };
    template <class Sample>
    void run (const AVFrame& frame, int depth, bool fullRange, film::GreyPicture& into);

    Axis across;
    Axis down;
    std::vector<std::uint32_t> row;
};
} // namespace shutterbeat::media
