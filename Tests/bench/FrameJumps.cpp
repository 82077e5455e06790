// Random jumps against plain decoding from the nearest key picture to the frame, and stepping back through one long group
// against decoding it once. 1280 x 720, a key picture every 250 frames, two B-frames.

#include "bench/Report.h"
#include "media/FrameReader.h"
#include "media/PictureStream.h"

#include <algorithm>
#include <numeric>
#include <random>
#include <vector>

using namespace shutterbeat;
using namespace shutterbeat::bench;

namespace
{
/// Decodes as a program would that knows where to begin and when to stop, with as many threads inside a picture as ours.
class Plain
{
public:
    Plain (const std::string& path, const media::FrameIndex& index_)
        : stream (must (media::PictureStream::open (path)))
        , index (index_)
    {
        const auto& parameters = *stream.stream().codecpar;
        const AVCodec* found = avcodec_find_decoder (parameters.codec_id);
        codec.reset (avcodec_alloc_context3 (found));
        avcodec_parameters_to_context (codec.get(), &parameters);
        codec->thread_count = 0;
        codec->thread_type = FF_THREAD_SLICE;
        if (avcodec_open2 (codec.get(), found, nullptr) < 0)
            giveUp ("no decoder");
    }

    /// How many pictures came out until that of frame `last` did; all are kept in `kept` when there is such a list.
    int decode (std::int64_t first, std::int64_t last, std::vector<media::FrameHandle>* kept = nullptr)
    {
        const auto& key = index.packets[static_cast<std::size_t> (index.decodeStart (first))];
        const auto wanted = index.frames[static_cast<std::size_t> (last)].pts;
        avcodec_flush_buffers (codec.get());
        if (! stream.seek (key.pts))
            giveUp ("can't seek");
        media::FrameHandle frame (av_frame_alloc());
        int made = 0;
        for (bool more = true; more;)
        {
            more = stream.next();
            avcodec_send_packet (codec.get(), more ? &stream.packet() : nullptr);
            while (avcodec_receive_frame (codec.get(), frame.get()) >= 0)
            {
                ++made;
                if (frame->pts == wanted)
                    return made;
                if (kept != nullptr)
                {
                    kept->push_back (std::move (frame));
                    frame.reset (av_frame_alloc());
                }
            }
        }
        giveUp ("the picture did not come");
    }

private:
    media::PictureStream stream;
    const media::FrameIndex& index;
    media::CodecHandle codec;
};

std::string milliseconds (double value)
{
    return std::to_string (static_cast<int> (value * 1000)) + " ms";
}
} // namespace

int main()
{
    const auto film = scratch() + "/long.mp4";
    shell ("ffmpeg -nostdin -y -v error -f lavfi -i testsrc2=s=1280x720:r=24 -frames:v 1000 -c:v libx264 -preset ultrafast -g 250 "
           "-keyint_min 250 -sc_threshold 0 -bf 2 -pix_fmt yuv420p "
           + film);

    auto reader = must (media::FrameReader::open (film, std::size_t (16) << 20));
    const auto& index = reader->index();
    Plain plain (film, index);
    std::mt19937 random (8);
    constexpr int jumps = 12;
    double ours = 0, theirs = 0;
    std::int64_t made = 0, needed = 0;
    for (int i = 0; i < jumps; ++i)
    {
        const auto k = static_cast<std::int64_t> (random() % 1000);
        const auto before = reader->decodedSoFar();
        // Each from another group, so that nothing is left from the jump before.
        must (reader->greyFrame ((k + 500) % 1000, 16, 9));
        made -= reader->decodedSoFar() - before;
        const auto start = reader->decodedSoFar();
        ours += seconds ([&] { must (reader->greyFrame (k, 16, 9)); });
        made += reader->decodedSoFar() - start + (start - before);
        theirs += seconds ([&] { needed += plain.decode (k, k); });
    }
    report ("random jump / decoding from the key (time)", ours / theirs, 1.1,
            std::to_string (jumps) + " jumps: " + milliseconds (ours / jumps) + " each, plain " + milliseconds (theirs / jumps));
    report ("random jump / decoding from the key (pictures)", static_cast<double> (made) / static_cast<double> (needed), 1.1,
            std::to_string (made) + " pictures decoded, " + std::to_string (needed) + " needed");

    // Keeping 250 pictures is part of the work, and so is getting the memory for them; each round with new decoders, so that
    // neither finds it ready. With the second group all the memory that may be used is in use; the third goes into what the
    // others leave.
    double once = 1e9, onceAgain = 1e9, back = 1e9, quickOnce = 1e9, second = 1e9, slowest = 1e9, mean = 1e9;
    for (int round = 0; round < 2; ++round)
    {
        {
            Plain other (film, index);
            std::vector<media::FrameHandle> kept;
            once = std::min (once, seconds ([&] { other.decode (500, 749, &kept); }));
            kept.clear();
            onceAgain = std::min (onceAgain, seconds ([&] { other.decode (0, 249, &kept); }));
        }
        quickOnce = std::min (quickOnce, seconds ([&] { plain.decode (0, 249); }));
        auto fresh = must (media::FrameReader::open (film, std::size_t (380) << 20));
        const auto steps = [&] (std::int64_t last)
        {
            std::vector<double> took;
            for (std::int64_t k = last; k > last - 250; --k)
                took.push_back (seconds ([&] { must (fresh->greyFrame (k, 160, 90)); }));
            return took;
        };
        const auto first = steps (749);
        back = std::min (back, std::accumulate (first.begin(), first.end(), 0.0));
        slowest = std::min (slowest, *std::max_element (first.begin() + 1, first.end()));
        mean = std::min (mean, std::accumulate (first.begin() + 1, first.end(), 0.0) / 249);
        steps (499);
        const auto next = steps (249);
        second = std::min (second, std::accumulate (next.begin(), next.end(), 0.0));
    }
    // What each step adds to make a grey picture of what it found is not decoding.
    const double painting = mean * 250;
    report ("back through a group / decoding and keeping it", (back - painting) / once, 1.2,
            milliseconds (back - painting) + ", plain " + milliseconds (once) + "; into memory taken for the first time");
    report ("back through the third group / decoding and keeping it", (second - painting) / onceAgain, 1.2,
            milliseconds (second - painting) + ", plain " + milliseconds (onceAgain)
                + " into memory used before; without keeping any " + milliseconds (quickOnce));
    report ("one step back from the cache, mean", mean * 1000, 2.0, "with its reduction to 160 x 90", "ms");
    report ("one step back from the cache, slowest", slowest * 1000, 2.0, "of 249", "ms");

    // Where the memory holds only a part of the group it has to be decoded more than once.
    auto small = must (media::FrameReader::open (film, std::size_t (192) << 20));
    for (std::int64_t k = 499; k >= 250; --k)
        must (small->greyFrame (k, 160, 90));
    report ("the same with 192 MB (pictures)", static_cast<double> (small->decodedSoFar()) / 250.0, 1.6,
            std::to_string (small->decodedSoFar()) + " pictures decoded for 250 of 1.4 MB");
}
