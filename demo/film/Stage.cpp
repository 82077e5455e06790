#include "Stage.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::demo
{

namespace
{

/// Mottles a finished backdrop like painted paper: broad blotches and a fine tooth, in multiples of the tone.
void giveTooth (cairo_surface_t* surface, std::uint32_t seed)
{
    cairo_surface_flush (surface);
    const int width = cairo_image_surface_get_width (surface);
    const int height = cairo_image_surface_get_height (surface);
    const int stride = cairo_image_surface_get_stride (surface);
    unsigned char* data = cairo_image_surface_get_data (surface);
    std::vector<double> broad (static_cast<std::size_t> (width / 16 + 3));
    std::vector<double> next (broad.size());
    const auto fillRow = [&] (std::vector<double>& row, int index)
    {
        for (std::size_t i = 0; i < row.size(); ++i)
            row[i] = chance (seed + static_cast<std::uint32_t> (index) * 977u, static_cast<std::uint32_t> (i)) - 0.5;
    };
    for (int y = 0; y < height; ++y)
    {
        if (y % 16 == 0)
        {
            fillRow (broad, y / 16);
            fillRow (next, y / 16 + 1);
        }
        const double down = (y % 16) / 16.0;
        auto* row = reinterpret_cast<std::uint32_t*> (data + static_cast<std::ptrdiff_t> (y) * stride);
        for (int x = 0; x < width; ++x)
        {
            const auto cell = static_cast<std::size_t> (x / 16);
            const double across = (x % 16) / 16.0;
            const double blotch = mix (mix (broad[cell], broad[cell + 1], across), mix (next[cell], next[cell + 1], across), down);
            const double tooth = chance (seed + 13u + static_cast<std::uint32_t> (y), static_cast<std::uint32_t> (x / 2)) - 0.5;
            const double gain = 1 + 0.11 * blotch + 0.07 * tooth;
            const double grey = std::clamp ((row[x] & 0xFFu) * gain, 0.0, 255.0);
            const auto level = static_cast<std::uint32_t> (grey + 0.5);
            row[x] = level | (level << 8) | (level << 16) | 0xFF000000u;
        }
    }
    cairo_surface_mark_dirty (surface);
}

std::uint32_t seedOf (const std::string& key)
{
    std::uint32_t h = 2166136261u;
    for (const char c : key)
        h = (h ^ static_cast<unsigned char> (c)) * 16777619u;
    return h;
}

} // namespace

Stage::Stage()
    : ink (nullptr)
    , surface_ (cairo_image_surface_create (CAIRO_FORMAT_RGB24, kStageWidth, kStageHeight))
{
    ink.cr = cairo_create (surface_);
    // Soft focus and grain come later: fast edges are good enough, and halve the drawing time.
    cairo_set_antialias (ink.cr, CAIRO_ANTIALIAS_FAST);
    cairo_set_tolerance (ink.cr, 0.3);
    cairo_translate (ink.cr, kMargin, kMargin);
}

Stage::~Stage()
{
    beginShot (1);
    cairo_destroy (ink.cr);
    cairo_surface_destroy (surface_);
}

void Stage::beginShot (int lengthInFilmFrames)
{
    for (auto& entry : backdrops_)
        cairo_surface_destroy (entry.second);
    backdrops_.clear();
    length = lengthInFilmFrames;
}

void Stage::beginFrame (int filmFrameOfShot)
{
    frame = filmFrameOfShot;
    t = static_cast<double> (frame) / kFilmFramesPerSecond;
    share = length > 1 ? static_cast<double> (frame) / (length - 1) : 0;
    cairo_set_source_rgb (ink.cr, 0, 0, 0);
    cairo_paint (ink.cr);
}

void Stage::backdrop (const std::string& key, double width, double shift, bool wraps, const std::function<void (Ink&)>& draw)
{
    auto found = backdrops_.find (key);
    if (found == backdrops_.end())
    {
        const int wide = static_cast<int> (width) + 2 * kMargin;
        cairo_surface_t* made = cairo_image_surface_create (CAIRO_FORMAT_RGB24, wide, kStageHeight);
        cairo_t* context = cairo_create (made);
        cairo_set_antialias (context, CAIRO_ANTIALIAS_GOOD);
        cairo_translate (context, kMargin, kMargin);
        Ink pen (context);
        draw (pen);
        cairo_destroy (context);
        giveTooth (made, seedOf (key));
        found = backdrops_.emplace (key, made).first;
    }
    const double first = wraps ? -(shift - std::floor (shift / width) * width) : -shift;
    for (double x = first; x < kFrameWidth + kMargin; x += width)
    {
        Ink::Hold hold (ink);
        if (wraps)
        {
            // Neighbouring copies share their margins: each paints its own stretch only.
            cairo_rectangle (ink.cr, std::floor (x) - (x == first ? kMargin : 0), -kMargin, width + 2 * kMargin, kStageHeight);
            cairo_clip (ink.cr);
        }
        cairo_set_source_surface (ink.cr, found->second, std::round (x) - kMargin, -kMargin);
        cairo_paint (ink.cr);
        if (! wraps)
            break;
    }
}

void Stage::iris (double x, double y, double radius)
{
    Ink::Hold hold (ink);
    const double soft = 14;
    cairo_pattern_t* pattern = cairo_pattern_create_radial (x, y, std::max (radius, 0.0), x, y, std::max (radius, 0.0) + soft);
    cairo_pattern_add_color_stop_rgba (pattern, 0, 0, 0, 0, 0);
    cairo_pattern_add_color_stop_rgba (pattern, 1, 0, 0, 0, 1);
    cairo_set_source (ink.cr, pattern);
    cairo_paint (ink.cr);
    cairo_pattern_destroy (pattern);
}

void Stage::darken (double amount)
{
    cairo_set_source_rgba (ink.cr, 0, 0, 0, clamp01 (amount));
    cairo_paint (ink.cr);
}

void Stage::read (std::vector<std::uint8_t>& grey)
{
    cairo_surface_flush (surface_);
    grey.resize (static_cast<std::size_t> (kStageWidth) * kStageHeight);
    const int stride = cairo_image_surface_get_stride (surface_);
    const unsigned char* data = cairo_image_surface_get_data (surface_);
    std::size_t out = 0;
    for (int y = 0; y < kStageHeight; ++y)
    {
        const auto* row = reinterpret_cast<const std::uint32_t*> (data + static_cast<std::ptrdiff_t> (y) * stride);
        for (int x = 0; x < kStageWidth; ++x)
            grey[out++] = static_cast<std::uint8_t> ((row[x] >> 8) & 0xFFu);
    }
}

} // namespace shutterbeat::demo
