#pragma once

#include <cstdint>
#include <memory>

struct AVFrame;

namespace shutterbeat::media
{
/// How the pictures of a movie are coded, and so how its canvases keep them: H.264 4:2:0 in 8 bits, ProRes 4:2:2 in 10.
enum class MovieCodec
{
    h264,
    prores
};

/// A rectangle of whole pixels.
struct Area
{
    int x = 0, y = 0, width = 0, height = 0;

    friend bool operator== (const Area&, const Area&) = default;
};

/// A picture of a movie in the making, kept as its codec takes it (ITU-R BT.709, narrow range), so that a film frame is
/// converted once. Moved, not copied; copyFrom() copies.
class Canvas
{
public:
    /// Black. Width and height are even, 2 to 16384.
    Canvas (int width, int height, MovieCodec codec);
    ~Canvas();
    Canvas (Canvas&&) noexcept;
    Canvas& operator= (Canvas&&) noexcept;

    [[nodiscard]] int width() const;
    [[nodiscard]] int height() const;

    /// Takes over every pixel of a canvas of the same size and codec.
    void copyFrom (const Canvas& other);
    /// The same within an area only.
    void copyFrom (const Canvas& other, const Area& area);
    /// One colour over an area with even edges (what lies outside is left out): 0xRRGGBB.
    void fill (const Area& area, std::uint32_t rgb);
    /// Lays pixels over the picture: 0xAARRGGBB, colours multiplied by alpha already (as Cairo keeps them), rows without
    /// gaps. x and y are even; what lies outside is left out.
    void blend (int x, int y, int width, int height, const std::uint32_t* pixels);

    /// For the files of this folder that talk to libav; writable.
    [[nodiscard]] AVFrame& frame();
    [[nodiscard]] const AVFrame& frame() const;

private:
    struct Freer
    {
        void operator() (AVFrame* held) const;
    };
    std::unique_ptr<AVFrame, Freer> held;
};
} // namespace shutterbeat::media
