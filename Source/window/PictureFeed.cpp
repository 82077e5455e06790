#include "window/PictureFeed.h"

namespace shutterbeat::window
{
namespace
{
constexpr std::size_t largeBudget = std::size_t (256) << 20;
constexpr std::size_t smallBudget = std::size_t (48) << 20;
constexpr std::size_t shrunkKept = 600; // small images kept for drawing, about 80 kB each

void writePixel (std::uint8_t* to, int r, int g, int b)
{
    reinterpret_cast<juce::PixelRGB*> (to)->setARGB (255, static_cast<juce::uint8> (r), static_cast<juce::uint8> (g),
                                                     static_cast<juce::uint8> (b));
}
} // namespace

juce::Image imageOf (const media::Picture& picture, int width, int height)
{
    if (picture.width <= 0 || picture.height <= 0)
        return {};
    int w = picture.width, h = picture.height;
    if (width > 0 && height > 0 && (w > width || h > height))
    {
        const double scale = std::min (static_cast<double> (width) / w, static_cast<double> (height) / h);
        w = std::max (1, juce::roundToInt (w * scale));
        h = std::max (1, juce::roundToInt (h * scale));
    }
    juce::Image image (juce::Image::RGB, w, h, false);
    const juce::Image::BitmapData data (image, juce::Image::BitmapData::writeOnly);
    const auto* rgb = picture.rgb.data();
    if (w == picture.width && h == picture.height)
    {
        for (int y = 0; y < h; ++y)
        {
            auto* to = data.getLinePointer (y);
            for (int x = 0; x < w; ++x, rgb += 3, to += data.pixelStride)
                writePixel (to, rgb[0], rgb[1], rgb[2]);
        }
        return image;
    }
    for (int y = 0; y < h; ++y)
    {
        const int top = y * picture.height / h, bottom = std::max (top + 1, (y + 1) * picture.height / h);
        auto* to = data.getLinePointer (y);
        for (int x = 0; x < w; ++x, to += data.pixelStride)
        {
            const int left = x * picture.width / w, right = std::max (left + 1, (x + 1) * picture.width / w);
            int sum[3] = { 0, 0, 0 };
            for (int sy = top; sy < bottom; ++sy)
                for (int sx = left; sx < right; ++sx)
                    for (int c = 0; c < 3; ++c)
                        sum[c] += rgb[3
                                          * (static_cast<std::size_t> (sy) * static_cast<std::size_t> (picture.width)
                                             + static_cast<std::size_t> (sx))
                                      + static_cast<std::size_t> (c)];
            const int count = (bottom - top) * (right - left);
            writePixel (to, sum[0] / count, sum[1] / count, sum[2] / count);
        }
    }
    return image;
}

PictureFeed::~PictureFeed()
{
    largeWorker.reset();
    smallWorker.reset();
    for (auto& thread : leaving)
        thread.join();
    cancelPendingUpdate();
}

/// A worker ends when its picture is decoded, which may take a while: the window does not wait for it.
void PictureFeed::retire (std::unique_ptr<play::DecodeWorker> worker)
{
    if (worker)
        leaving.emplace_back ([gone = std::shared_ptr<play::DecodeWorker> (std::move (worker))]() mutable { gone.reset(); });
}

void PictureFeed::setFiles (const std::vector<std::string>& paths)
{
    retire (std::move (largeWorker));
    retire (std::move (smallWorker));
    largeWorker = std::make_unique<play::DecodeWorker> (play::filmPictures (paths), largeBudget, [this] { triggerAsyncUpdate(); });
    smallWorker = std::make_unique<play::DecodeWorker> (play::filmPictures (paths), smallBudget, [this] { triggerAsyncUpdate(); });
    shrunk.clear();
    lastPicture.reset();
    lastImage = {};
}

void PictureFeed::wantLarge (std::vector<play::FrameKey> keys, int width, int height)
{
    if (largeWorker)
        largeWorker->want (std::move (keys), width, height);
}

void PictureFeed::wantSmall (std::vector<play::FrameKey> keys)
{
    if (smallWorker)
        smallWorker->want (std::move (keys), smallWidth, smallHeight);
}

juce::Image PictureFeed::large (const play::FrameKey& key)
{
    if (! largeWorker)
        return {};
    const auto picture = largeWorker->picture (key);
    if (! picture)
        return {};
    if (picture != lastPicture)
    {
        lastPicture = picture;
        lastLarge = key;
        lastImage = imageOf (*picture);
    }
    return lastImage;
}

juce::Image PictureFeed::small (const play::FrameKey& key)
{
    if (const auto found = shrunk.find (key); found != shrunk.end())
        return found->second;
    if (! largeWorker || ! smallWorker)
        return {};
    auto picture = largeWorker->picture (key);
    if (! picture)
        picture = smallWorker->picture (key);
    if (! picture)
        return {};
    if (shrunk.size() >= shrunkKept)
        shrunk.clear();
    return shrunk[key] = imageOf (*picture, smallWidth, smallHeight);
}

std::string PictureFeed::failure (const play::FrameKey& key)
{
    return largeWorker ? largeWorker->failure (key) : "";
}

bool PictureFeed::damaged (const play::FrameKey& key)
{
    return key == lastLarge && lastPicture && lastPicture->damaged;
}

void PictureFeed::handleAsyncUpdate()
{
    if (onArrived)
        onArrived();
}
} // namespace shutterbeat::window
