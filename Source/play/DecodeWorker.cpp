#include "play/DecodeWorker.h"

namespace shutterbeat::play
{
DecodeWorker::DecodeWorker (std::unique_ptr<PictureSource> from, std::size_t budgetBytes, std::function<void()> whenArrived)
    : source (std::move (from))
    , arrived (std::move (whenArrived))
    , cache (budgetBytes)
    , thread ([this] { run(); })
{
}

DecodeWorker::~DecodeWorker()
{
    {
        const std::lock_guard lock (mutex);
        stopping = true;
    }
    wake.notify_all();
    thread.join();
}

void DecodeWorker::want (std::vector<FrameKey> keys, int newWidth, int newHeight)
{
    {
        const std::lock_guard lock (mutex);
        if (newWidth != width || newHeight != height)
        {
            width = newWidth;
            height = newHeight;
            ++generation;
            cache.clear();
        }
        else if (keys == wish)
            return;
        cache.want (keys);
        wish = std::move (keys);
        nextWish = 0;
    }
    wake.notify_all();
}

PicturePtr DecodeWorker::picture (const FrameKey& key)
{
    const std::lock_guard lock (mutex);
    return cache.find (key);
}

std::string DecodeWorker::failure (const FrameKey& key)
{
    const std::lock_guard lock (mutex);
    const auto found = failures.find (key);
    return found == failures.end() ? "" : found->second;
}

void DecodeWorker::waitUntilIdle()
{
    std::unique_lock lock (mutex);
    idle.wait (lock, [this] { return stopping || (! busy && nextWish >= wish.size()); });
}

std::size_t DecodeWorker::cachedBytes()
{
    const std::lock_guard lock (mutex);
    return cache.bytes();
}

std::size_t DecodeWorker::decodedCount()
{
    const std::lock_guard lock (mutex);
    return decoded;
}

/// The next wish that is not decoded yet; called with the mutex held.
bool DecodeWorker::takeNext (FrameKey& key)
{
    while (nextWish < wish.size())
    {
        key = wish[nextWish++];
        if (! cache.has (key) && failures.count (key) == 0)
            return true;
    }
    return false;
}

void DecodeWorker::run()
{
    std::unique_lock lock (mutex);
    while (! stopping)
    {
        FrameKey key;
        if (! takeNext (key))
        {
            idle.notify_all();
            wake.wait (lock, [this] { return stopping || nextWish < wish.size(); });
            continue;
        }
        busy = true;
        const auto mine = generation;
        const int w = width, h = height;
        lock.unlock();
        auto made = source->picture (key, w, h);
        lock.lock();
        busy = false;
        if (mine != generation)
            continue;
        if (made)
        {
            ++decoded;
            // Without room beside more wanted pictures, reading further ahead is of no use.
            if (! cache.add (key, std::move (*made)))
                nextWish = wish.size();
        }
        else
            failures[key] = made.error().text();
        lock.unlock();
        if (arrived)
            arrived();
        lock.lock();
    }
    idle.notify_all();
}
} // namespace shutterbeat::play
