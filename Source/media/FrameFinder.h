#pragma once

#include "media/Decoder.h"
#include "media/FrameCache.h"
#include "media/FrameIndex.h"
#include "media/PacketWalk.h"
#include "time/Result.h"

#include <cstddef>
#include <cstdint>
#include <set>
#include <string>
#include <utility>

namespace shutterbeat::media
{
/// No picture is decoded further than this many packets before one that is shown earlier (16 frames as pairs of fields).
constexpr std::int64_t reach = 34;

/// Finds the decoded picture of any frame, always the same one.
///
/// Decoding goes in runs, each from a key packet on. While all data is sound, where a run began makes no difference. A
/// picture out of damaged data, though, depends on what the decoder had seen before; so as soon as a run meets damage
/// before the frame that is wanted, that frame's group (all frames that decode from the same key) is decoded again in one
/// set way: by a new decoder on one thread, beginning one key earlier. Only those pictures count for the group.
///
/// Where each picture stands alone a jump decodes that one packet and nothing else; runs are for going forward.
class FrameFinder
{
public:
    /// The index must outlive the finder. `decoder`: opened with `threads`, which are one or sure.
    FrameFinder (PictureStream stream, const FrameIndex& index, Decoder decoder, DecoderThreads threads, std::size_t cacheBytes);
    /// The picture of frame k, or null when it can't be decoded; valid until the next call. Error: the file can't be read.
    Result<const KeptFrame*> find (std::int64_t k);
    /// From now on only these frames will be asked for: others are not decoded where nothing is made from them. One that is
    /// asked for all the same is found, but takes longer. None: every frame may be asked for.
    void onlyThese (std::set<std::int64_t> frames) { wanted = std::move (frames); }
    /// How many pictures have come out of the decoder.
    [[nodiscard]] std::int64_t decodedSoFar() const { return decoded; }

private:
    /// How an attempt at a frame ended.
    enum class Outcome
    {
        found,
        missing,
        damage
    };

    Result<Done> begin (std::int64_t group);
    Result<Done> beginAgain (std::int64_t group);
    void leaveRun();
    void accept (DecodedFrame picture, std::int64_t target);
    Result<Done> freshDecoder (DecoderThreads opening);
    Result<Outcome> decodeTo (std::int64_t k);
    Result<Outcome> decodeAlone (std::int64_t k, bool inSetWay);
    Result<Outcome> decodeGroup (std::int64_t k, bool unsettled);
    [[nodiscard]] bool isLeftOut (std::int64_t from, std::int64_t to) const;
    [[nodiscard]] bool isMissing (std::int64_t k) const;
    [[nodiscard]] bool isUnwanted (std::int64_t packet) const;
    [[nodiscard]] bool canGoOn (std::int64_t k) const;
    [[nodiscard]] bool isUnsettled (std::int64_t k) const;
    [[nodiscard]] std::int64_t settledBy (std::int64_t k) const;
    [[nodiscard]] std::int64_t frameOf (std::int64_t packet) const;

    const FrameIndex& index;
    PacketWalk walk;
    Decoder decoder;
    DecoderThreads threads;
    FrameCache cache;
    std::set<std::int64_t> lost;   ///< frames known not to decode
    std::set<std::int64_t> wanted; ///< all that will be asked for; empty: any may be
    std::set<std::int64_t> passed; ///< frames of this run that were not decoded because nobody wants them
    std::int64_t decoded = 0;
    std::int64_t asked = -1; ///< the frame that was wanted last
    bool backward = false;   ///< and the one before it was later in the film

    // The run: decoding goes on; what comes out from firstGood on is what the file shows.
    bool running = false;
    bool setWay = false;    ///< this run is the one set way for `group`, and good for nothing else
    bool metDamage = false; ///< something in this run did not decode whole
    std::int64_t begun = 0; ///< packet
    std::int64_t group = 0; ///< the key packet of the group that the run is for
    std::int64_t firstGood = 0;
    std::int64_t latest = -1; ///< the last frame that came out
};
} // namespace shutterbeat::media
