#pragma once

#include "play/PictureSource.h"

#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>

namespace shutterbeat::play
{
/// Decodes wanted pictures on a thread of its own into a cache with a budget. Its mailbox holds one wish: the latest wins,
/// and is looked at again after every picture. All members may be called from any one other thread.
class DecodeWorker
{
public:
    /// `arrived` is called on the worker's thread after each new picture, and after one that failed.
    DecodeWorker (std::unique_ptr<PictureSource> source, std::size_t budgetBytes, std::function<void()> arrived = {});
    ~DecodeWorker();
    DecodeWorker (const DecodeWorker&) = delete;
    DecodeWorker& operator= (const DecodeWorker&) = delete;

    /// What to decode, most wanted first, fitted into width x height pixels (0, 0: full size). Another size than
    /// before empties the cache.
    void want (std::vector<FrameKey> keys, int width, int height);
    /// The picture if it is there; never waits for decoding.
    PicturePtr picture (const FrameKey& key);
    /// Why a picture could not be made; empty when nothing is known against it.
    std::string failure (const FrameKey& key);
    /// Blocks until every wish is decoded, failed or without room. For tests and for stills.
    void waitUntilIdle();

    [[nodiscard]] std::size_t cachedBytes();
    /// Pictures decoded so far.
    [[nodiscard]] std::size_t decodedCount();

private:
    void run();
    bool takeNext (FrameKey& key);

    // --- worker thread only
    std::unique_ptr<PictureSource> source;
    // --- set once
    std::function<void()> arrived;
    // --- protected by mutex
    std::mutex mutex;
    std::condition_variable wake, idle;
    std::vector<FrameKey> wish;
    std::size_t nextWish = 0;
    std::uint64_t generation = 0; ///< of the size: a picture decoded at another size is thrown away
    int width = 0, height = 0;
    FrameCache cache;
    std::map<FrameKey, std::string> failures;
    std::size_t decoded = 0;
    bool busy = false;
    bool stopping = false;
    // --- last: starts when all else is there
    std::thread thread;
};
} // namespace shutterbeat::play
