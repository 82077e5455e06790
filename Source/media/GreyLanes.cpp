#include "media/GreyLanes.h"

#include <condition_variable>
#include <deque>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

namespace shutterbeat::media
{
namespace
{
/// So many pictures of a piece may wait to be handed on.
constexpr std::size_t mostWaiting = 128;

class Lanes
{
public:
    Lanes (std::vector<std::unique_ptr<FrameReader>>& readers_, const std::vector<std::int64_t>& pieces_, int width_, int height_)
        : readers (readers_)
        , pieces (pieces_)
        , width (width_)
        , height (height_)
        , results (pieces_.size() - 1)
    {
        for (auto& reader : readers)
            threads.emplace_back ([this, &reader] { work (*reader); });
    }
    Lanes (const Lanes&) = delete;
    Lanes& operator= (const Lanes&) = delete;
    ~Lanes()
    {
        {
            const std::lock_guard lock (mutex);
            stopped = true;
        }
        changed.notify_all();
        for (auto& thread : threads)
            thread.join();
    }

    /// The next picture of a piece, waiting for it; pieces must be asked for one after the other.
    Result<film::GreyPicture> take (std::size_t piece)
    {
        std::unique_lock lock (mutex);
        current = piece;
        changed.notify_all();
        auto& result = results[piece];
        changed.wait (lock, [&] { return ! result.waiting.empty() || result.fault; });
        if (result.waiting.empty())
            return *result.fault;
        auto picture = std::move (result.waiting.front());
        result.waiting.pop_front();
        changed.notify_all();
        return picture;
    }

private:
    struct PieceResult
    {
        std::deque<film::GreyPicture> waiting;
        std::optional<Error> fault;
    };

    /// The next piece nobody works on yet, once it is near enough to the current one.
    std::optional<std::size_t> nextPiece()
    {
        std::unique_lock lock (mutex);
        changed.wait (lock, [&] { return stopped || begun >= results.size() || begun < current + 2 * readers.size(); });
        if (stopped || begun >= results.size())
            return {};
        return begun++;
    }

    void work (FrameReader& reader)
    {
        while (const auto piece = nextPiece())
            for (auto k = pieces[*piece]; k < pieces[*piece + 1]; ++k)
            {
                auto picture = reader.greyFrame (k, width, height);
                std::unique_lock lock (mutex);
                auto& result = results[*piece];
                changed.wait (lock, [&] { return stopped || result.waiting.size() < mostWaiting; });
                if (stopped)
                    return;
                if (picture)
                    result.waiting.push_back (std::move (picture.value()));
                else
                    result.fault = picture.error();
                changed.notify_all();
                if (! picture)
                    return;
            }
    }

    std::vector<std::unique_ptr<FrameReader>>& readers; // each used by its own thread only
    const std::vector<std::int64_t>& pieces;
    int width;
    int height;

    std::mutex mutex;
    std::condition_variable changed;
    // --- protected by the mutex
    std::vector<PieceResult> results;
    std::size_t begun = 0;   ///< pieces up to here have their thread
    std::size_t current = 0; ///< the piece that is handed on
    bool stopped = false;
    // ---
    std::vector<std::thread> threads;
};
} // namespace

Result<Done> readInLanes (std::vector<std::unique_ptr<FrameReader>>& readers, const std::vector<std::int64_t>& pieces, int width,
                          int height, const std::function<bool (std::int64_t, const film::GreyPicture&)>& each)
{
    Lanes lanes (readers, pieces, width, height);
    for (std::size_t piece = 0; piece + 1 < pieces.size(); ++piece)
        for (auto k = pieces[piece]; k < pieces[piece + 1]; ++k)
        {
            const auto picture = lanes.take (piece);
            if (! picture)
                return picture.error();
            if (! each (k, *picture))
                return Error{ ErrorCode::cancelled, readers.front()->info().path, "reading was stopped" };
        }
    return Done{};
}
} // namespace shutterbeat::media
