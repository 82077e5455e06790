#include "desk/PagePreview.h"

#include <algorithm>
#include <filesystem>
#include <memory>
#include <poppler-document.h>
#include <poppler-page-renderer.h>
#include <poppler-page.h>
#include <unistd.h>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;

/// A folder that goes when it is left.
struct ShortLived
{
    ShortLived()
    {
        std::string name = (fs::temp_directory_path() / "shutterbeat-page-XXXXXX").string();
        if (::mkdtemp (name.data()) != nullptr)
            path = name;
    }
    ~ShortLived()
    {
        std::error_code ignored;
        if (! path.empty())
            fs::remove_all (path, ignored);
    }
    ShortLived (const ShortLived&) = delete;
    ShortLived& operator= (const ShortLived&) = delete;
    std::string path;
};

Result<media::Picture> drawn (const poppler::page& page, int width)
{
    constexpr double pointsAnInch = 72;
    const auto size = page.page_rect();
    const double dots = pointsAnInch * width / std::max (1.0, size.width());
    poppler::page_renderer renderer;
    renderer.set_render_hint (poppler::page_renderer::antialiasing);
    renderer.set_render_hint (poppler::page_renderer::text_antialiasing);
    renderer.set_image_format (poppler::image::format_rgb24);
    const auto image = renderer.render_page (&page, dots, dots);
    if (! image.is_valid())
        return unreadable ("page", "could not be drawn");
    media::Picture picture;
    picture.width = image.width();
    picture.height = image.height();
    picture.rgb.resize (3u * static_cast<std::size_t> (picture.width) * static_cast<std::size_t> (picture.height));
    for (int y = 0; y < picture.height; ++y)
    {
        const auto* line = reinterpret_cast<const std::uint8_t*> (image.const_data()) + std::ptrdiff_t (y) * image.bytes_per_row();
        std::copy_n (line, 3 * picture.width, picture.rgb.begin() + std::ptrdiff_t (3) * y * picture.width);
    }
    return picture;
}
} // namespace

Result<PagePreview> previewPages (const OpenBook& open, const std::string& format, const ExportWish& wish, int width, int most,
                                  const Progress& progress)
{
    const auto& formats = exportFormats();
    const auto is = std::find_if (formats.begin(), formats.end(), [&] (const Format& f) { return f.name == format; });
    if (is == formats.end() || is->ending != ".pdf")
        return usageError ("format " + format, "has no pages to look at");
    const ShortLived folder;
    if (folder.path.empty())
        return cannotWrite (fs::temp_directory_path().string(), "no folder can be made in it for the preview");
    auto made = exportBook (open, format, folder.path + "/" + is->file, wish, progress);
    if (! made)
        return made.error();
    const std::unique_ptr<poppler::document> document (poppler::document::load_from_file (made->files.front()));
    if (document == nullptr)
        return unreadable (is->file, "could not be read back");
    PagePreview preview;
    preview.count = document->pages();
    preview.notes = std::move (made->notes);
    for (int i = 0; i < std::min (most, preview.count); ++i)
    {
        const std::unique_ptr<poppler::page> page (document->create_page (i));
        if (page == nullptr)
            return unreadable (is->file, "page " + std::to_string (i + 1) + " could not be read back");
        auto picture = drawn (*page, width);
        if (! picture)
            return picture.error();
        preview.pages.push_back (std::move (*picture));
    }
    return preview;
}
} // namespace shutterbeat::desk
