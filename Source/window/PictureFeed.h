#pragma once

#include "play/DecodeWorker.h"
#include "play/FrameKey.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <map>
#include <memory>
#include <thread>
#include <vector>

namespace shutterbeat::window
{
/// A decoded picture as JUCE draws it, shrunk by area to fit width x height when these are above zero.
juce::Image imageOf (const media::Picture& picture, int width = 0, int height = 0);

/// Pictures for the window: large ones read ahead around the picture on screen, small ones for shots. Both are decoded on
/// threads of their own; asking never waits.
class PictureFeed final : private juce::AsyncUpdater
{
public:
    PictureFeed() = default;
    ~PictureFeed() override;

    /// On the window's thread, after new pictures have come.
    std::function<void()> onArrived;

    /// Other films; everything kept is let go.
    void setFiles (const std::vector<std::string>& paths);
    /// What to read around the picture on screen, at most this large in pixels of the screen.
    void wantLarge (std::vector<play::FrameKey> keys, int width, int height);
    /// Pictures of shots in view.
    void wantSmall (std::vector<play::FrameKey> keys);

    /// The picture, or an invalid image while it is not there.
    juce::Image large (const play::FrameKey& key);
    /// From the large ones, shrunk, or the small ones; whichever is there.
    juce::Image small (const play::FrameKey& key);
    /// Why a picture can't be shown; empty when nothing is known against it.
    [[nodiscard]] std::string failure (const play::FrameKey& key);
    [[nodiscard]] bool damaged (const play::FrameKey& key);

    static constexpr int smallWidth = 192, smallHeight = 144;

private:
    void handleAsyncUpdate() override;
    void retire (std::unique_ptr<play::DecodeWorker> worker);

    std::unique_ptr<play::DecodeWorker> largeWorker, smallWorker;
    std::map<play::FrameKey, juce::Image> shrunk;
    play::FrameKey lastLarge;
    play::PicturePtr lastPicture;
    juce::Image lastImage;
    std::vector<std::thread> leaving; ///< each waits for a worker of earlier films to end its last picture
};
} // namespace shutterbeat::window
