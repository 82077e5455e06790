#include "sheets/Picture.h"

#include <algorithm>

namespace shutterbeat::sheets
{
bool SheetPicture::whole() const
{
    return width > 0 && height > 0
           && bytes.size() == static_cast<std::size_t> (width) * static_cast<std::size_t> (height) * (grey ? 1 : 3);
}

SheetPicture smaller (const SheetPicture& picture, int maxWidth, int maxHeight)
{
    if (! picture.whole() || (picture.width <= maxWidth && picture.height <= maxHeight))
        return picture;
    // In whole numbers, so that every machine gets the same pixels.
    SheetPicture small;
    small.grey = picture.grey;
    const std::int64_t w = picture.width, h = picture.height;
    const bool wide = w * maxHeight > h * maxWidth;
    small.width = wide ? maxWidth : static_cast<int> (std::max<std::int64_t> (1, (w * maxHeight + h / 2) / h));
    small.height = wide ? static_cast<int> (std::max<std::int64_t> (1, (h * maxWidth + w / 2) / w)) : maxHeight;
    const int channels = picture.grey ? 1 : 3;
    small.bytes.resize (static_cast<std::size_t> (small.width) * static_cast<std::size_t> (small.height) * channels);
    for (int y = 0; y < small.height; ++y)
    {
        const int top = static_cast<int> (y * h / small.height);
        const int bottom = std::max (top + 1, static_cast<int> ((y + 1) * h / small.height));
        for (int x = 0; x < small.width; ++x)
        {
            const int left = static_cast<int> (x * w / small.width);
            const int right = std::max (left + 1, static_cast<int> ((x + 1) * w / small.width));
            std::uint64_t sums[3] = {};
            for (int sy = top; sy < bottom; ++sy)
            {
                const auto* row = picture.bytes.data() + (static_cast<std::size_t> (sy) * picture.width + left) * channels;
                for (int sx = left; sx < right; ++sx)
                    for (int c = 0; c < channels; ++c)
                        sums[c] += *row++;
            }
            const auto count = static_cast<std::uint64_t> (bottom - top) * static_cast<std::uint64_t> (right - left);
            auto* out = small.bytes.data() + (static_cast<std::size_t> (y) * small.width + x) * channels;
            for (int c = 0; c < channels; ++c)
                out[c] = static_cast<std::uint8_t> ((sums[c] + count / 2) / count);
        }
    }
    return small;
}

void drawPicture (cairo_t* cairo, const SheetPicture& picture, double x, double y, double width, double height)
{
    if (! picture.whole())
        return;
    cairo_surface_t* image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, picture.width, picture.height);
    if (cairo_surface_status (image) != CAIRO_STATUS_SUCCESS)
    {
        cairo_surface_destroy (image);
        return;
    }
    unsigned char* pixels = cairo_image_surface_get_data (image);
    const int stride = cairo_image_surface_get_stride (image);
    const std::uint8_t* from = picture.bytes.data();
    for (int row = 0; row < picture.height; ++row)
    {
        auto* to = reinterpret_cast<std::uint32_t*> (pixels + static_cast<std::ptrdiff_t> (row) * stride);
        for (int column = 0; column < picture.width; ++column, from += picture.grey ? 1 : 3)
        {
            const std::uint32_t red = from[0], green = picture.grey ? red : from[1], blue = picture.grey ? red : from[2];
            to[column] = red << 16 | green << 8 | blue;
        }
    }
    cairo_surface_mark_dirty (image);
    if (! picture.jpeg.empty())
    {
        // The document may outlive the picture.
        auto* own = new std::string (picture.jpeg);
        const auto done = [] (void* text) { delete static_cast<std::string*> (text); };
        if (cairo_surface_set_mime_data (image, CAIRO_MIME_TYPE_JPEG, reinterpret_cast<const unsigned char*> (own->data()),
                                         own->size(), done, own)
            != CAIRO_STATUS_SUCCESS)
            delete own;
    }
    cairo_save (cairo);
    cairo_translate (cairo, x, y);
    cairo_scale (cairo, width / picture.width, height / picture.height);
    cairo_set_source_surface (cairo, image, 0, 0);
    cairo_pattern_set_filter (cairo_get_source (cairo), CAIRO_FILTER_BEST);
    cairo_paint (cairo);
    cairo_restore (cairo);
    cairo_surface_destroy (image);
}
} // namespace shutterbeat::sheets
