#include "media/FrameReader.h"
#include "play/PictureSource.h"

#include <algorithm>
#include <map>

namespace shutterbeat::play
{
namespace
{
// Beside the frame cache a reader keeps what it needs to step back through one group of pictures.
constexpr std::size_t readerBytes = std::size_t (96) << 20;

class FilmPictures final : public PictureSource
{
public:
    explicit FilmPictures (std::vector<std::string> filmPaths)
        : paths (std::move (filmPaths))
    {
    }

    Result<PicturePtr> picture (const FrameKey& key, int width, int height) override
    {
        if (key.file >= paths.size() || paths[key.file].empty())
            return unreadable ("film", "its file is missing");
        auto& reader = readers[key.file];
        if (! reader)
        {
            auto opened = media::FrameReader::open (paths[key.file], readerBytes);
            if (! opened)
                return opened.error();
            reader = std::move (*opened);
        }
        const auto& info = reader->info();
        int w = 0, h = 0;
        if (width > 0 && height > 0 && info.width > 0 && info.height > 0)
        {
            const double scale = std::min (static_cast<double> (width) / info.width, static_cast<double> (height) / info.height);
            w = std::max (1, static_cast<int> (info.width * scale + 0.5));
            h = std::max (1, static_cast<int> (info.height * scale + 0.5));
        }
        auto made = reader->frame (key.fileFrame, w, h);
        if (! made)
            return made.error();
        return PicturePtr (std::make_shared<const media::Picture> (std::move (*made)));
    }

private:
    std::vector<std::string> paths;
    std::map<std::size_t, std::unique_ptr<media::FrameReader>> readers;
};
} // namespace

std::unique_ptr<PictureSource> filmPictures (std::vector<std::string> paths)
{
    return std::make_unique<FilmPictures> (std::move (paths));
}
} // namespace shutterbeat::play
