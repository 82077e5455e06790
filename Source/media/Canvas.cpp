#include "media/Canvas.h"

#include "media/Libav.h"

#include <algorithm>
#include <cstring>

namespace shutterbeat::media
{
namespace
{
/// Colours of ITU-R BT.709 in 16 bits of fraction: Kr 0.2126, Kb 0.0722, narrow range (16 to 235, 16 to 240).
struct Coded
{
    int y = 0, u = 0, v = 0; ///< 8 fractional bits; without their offsets of 16 and 128
};

Coded codedOf (int red, int green, int blue)
{
    // (219/255) * 65536 * coefficient, and (224/255) / (2 (1 - K)) likewise; rows for u and v add up to nothing.
    const int y = 11966 * red + 40254 * green + 4064 * blue;
    const int u = -6596 * red - 22189 * green + 28785 * blue;
    const int v = 28785 * red - 26145 * green - 2640 * blue;
    return { (y + 128) >> 8, (u + 128) >> 8, (v + 128) >> 8 };
}

/// Alpha 0 to 255 as 0 to 256, so that whole covers wholly.
int weightOf (std::uint32_t alpha)
{
    return static_cast<int> (alpha + (alpha >> 7));
}

template <class Sample>
Sample* rowOf (AVFrame& frame, int plane, int y)
{
    return reinterpret_cast<Sample*> (frame.data[plane] + std::ptrdiff_t (y) * frame.linesize[plane]);
}

/// `shift`: bits beyond eight. `down`: whether chroma is halved downward as well as across.
template <class Sample, int shift, int down>
void blendOver (AVFrame& frame, int x0, int y0, const Area& part, int stride, const std::uint32_t* pixels)
{
    for (int y = part.y; y < part.y + part.height; ++y)
    {
        auto* luma = rowOf<Sample> (frame, 0, y0 + y) + x0;
        const auto* row = pixels + std::ptrdiff_t (y) * stride;
        for (int x = part.x; x < part.x + part.width; ++x)
            if (const auto pixel = row[x]; pixel >> 24 != 0)
            {
                const int weight = weightOf (pixel >> 24);
                const auto coded = codedOf (static_cast<int> (pixel >> 16 & 255), static_cast<int> (pixel >> 8 & 255),
                                            static_cast<int> (pixel & 255));
                const int over = ((coded.y << shift) + 16 * (weight << shift)) >> 8;
                luma[x] = static_cast<Sample> (((luma[x] * (256 - weight) + 128) >> 8) + over);
            }
    }
    const int rows = 1 << down;
    for (int y = part.y; y < part.y + part.height; y += rows)
    {
        auto* u = rowOf<Sample> (frame, 1, (y0 + y) >> down);
        auto* v = rowOf<Sample> (frame, 2, (y0 + y) >> down);
        for (int x = part.x; x < part.x + part.width; x += 2)
        {
            int alpha = 0, red = 0, green = 0, blue = 0;
            for (int dy = 0; dy < rows && y + dy < part.y + part.height; ++dy)
                for (int dx = 0; dx < 2 && x + dx < part.x + part.width; ++dx)
                {
                    const auto pixel = pixels[std::ptrdiff_t (y + dy) * stride + x + dx];
                    alpha += weightOf (pixel >> 24);
                    red += static_cast<int> (pixel >> 16 & 255);
                    green += static_cast<int> (pixel >> 8 & 255);
                    blue += static_cast<int> (pixel & 255);
                }
            if (alpha == 0)
                continue;
            const int count = 2 * rows;
            const int weight = (alpha + count / 2) / count;
            const auto coded = codedOf ((red + count / 2) / count, (green + count / 2) / count, (blue + count / 2) / count);
            const auto lay = [&] (Sample& sample, int chroma)
            {
                const int middle = 128 << shift;
                const int mixed = middle + (((sample - middle) * (256 - weight) + (chroma << shift) + 128) >> 8);
                sample = static_cast<Sample> (std::clamp (mixed, 0, (256 << shift) - 1));
            };
            lay (u[(x0 + x) / 2], coded.u);
            lay (v[(x0 + x) / 2], coded.v);
        }
    }
}

template <class Sample>
void fillPlane (AVFrame& frame, int plane, const Area& area, int value)
{
    for (int y = area.y; y < area.y + area.height; ++y)
        std::fill_n (rowOf<Sample> (frame, plane, y) + area.x, area.width, static_cast<Sample> (value));
}

bool isTenBits (const AVFrame& frame)
{
    return frame.format == AV_PIX_FMT_YUV422P10;
}

Area within (const Area& area, int width, int height)
{
    const int left = std::clamp (area.x, 0, width), top = std::clamp (area.y, 0, height);
    return { left, top, std::clamp (area.x + area.width, left, width) - left,
             std::clamp (area.y + area.height, top, height) - top };
}
} // namespace

void Canvas::Freer::operator() (AVFrame* frame) const
{
    av_frame_free (&frame);
}

Canvas::Canvas (int width, int height, MovieCodec codec)
    : held (av_frame_alloc())
{
    held->format = codec == MovieCodec::h264 ? AV_PIX_FMT_YUV420P : AV_PIX_FMT_YUV422P10;
    held->width = width;
    held->height = height;
    held->colorspace = AVCOL_SPC_BT709;
    held->color_primaries = AVCOL_PRI_BT709;
    held->color_trc = AVCOL_TRC_BT709;
    held->color_range = AVCOL_RANGE_MPEG;
    held->chroma_location = AVCHROMA_LOC_LEFT;
    av_frame_get_buffer (held.get(), 0);
    fill ({ 0, 0, width, height }, 0);
}

Canvas::~Canvas() = default;
Canvas::Canvas (Canvas&&) noexcept = default;
Canvas& Canvas::operator= (Canvas&&) noexcept = default;

int Canvas::width() const
{
    return held->width;
}

int Canvas::height() const
{
    return held->height;
}

AVFrame& Canvas::frame()
{
    // An encoder may still hold the pixels that were handed to it.
    av_frame_make_writable (held.get());
    return *held;
}

const AVFrame& Canvas::frame() const
{
    return *held;
}

void Canvas::copyFrom (const Canvas& other)
{
    copyFrom (other, { 0, 0, width(), height() });
}

void Canvas::copyFrom (const Canvas& other, const Area& wanted)
{
    const auto area = within (wanted, std::min (width(), other.width()), std::min (height(), other.height()));
    auto& into = frame();
    const auto& from = other.frame();
    const int bytes = isTenBits (into) ? 2 : 1;
    for (int plane = 0; plane < 3; ++plane)
    {
        const int across = plane == 0 ? 0 : 1;
        const int down = plane == 0 || isTenBits (into) ? 0 : 1;
        const int left = area.x >> across, top = area.y >> down;
        const int columns = ((area.x + area.width + across) >> across) - left;
        const int bottom = (area.y + area.height + down) >> down;
        for (int y = top; y < bottom; ++y)
            std::memcpy (into.data[plane] + std::ptrdiff_t (y) * into.linesize[plane] + std::ptrdiff_t (left) * bytes,
                         from.data[plane] + std::ptrdiff_t (y) * from.linesize[plane] + std::ptrdiff_t (left) * bytes,
                         static_cast<std::size_t> (columns * bytes));
    }
}

void Canvas::fill (const Area& wanted, std::uint32_t rgb)
{
    const auto area = within (wanted, width(), height());
    const auto coded =
        codedOf (static_cast<int> (rgb >> 16 & 255), static_cast<int> (rgb >> 8 & 255), static_cast<int> (rgb & 255));
    auto& into = frame();
    const auto plane = [&] (int number, const Area& part, int offset, int value)
    {
        if (isTenBits (into))
            fillPlane<std::uint16_t> (into, number, part, (offset << 2) + ((value + 32) >> 6));
        else
            fillPlane<std::uint8_t> (into, number, part, offset + ((value + 128) >> 8));
    };
    plane (0, area, 16, coded.y);
    const int down = isTenBits (into) ? 0 : 1;
    const Area half{ area.x / 2, area.y >> down, area.width / 2, area.height >> down };
    plane (1, half, 128, coded.u);
    plane (2, half, 128, coded.v);
}

void Canvas::blend (int x, int y, int across, int down, const std::uint32_t* pixels)
{
    // The part of the pixels that lies on the canvas.
    const auto seen = within ({ x, y, across, down }, width(), height());
    const Area part{ seen.x - x, seen.y - y, seen.width, seen.height };
    if (part.width <= 0 || part.height <= 0)
        return;
    auto& into = frame();
    if (isTenBits (into))
        blendOver<std::uint16_t, 2, 0> (into, x, y, part, across, pixels);
    else
        blendOver<std::uint8_t, 0, 1> (into, x, y, part, across, pixels);
}
} // namespace shutterbeat::media
