#include "media/FrameFinder.h"

#include "media/Disposable.h"

#include <algorithm>
#include <utility>

namespace shutterbeat::media
{
namespace
{
/// A missing picture is given up once the decoder has shown one this much later: none waits longer.
constexpr std::int64_t patience = 20;
/// So many packets are decoded on the way rather than jumped over.
constexpr std::int64_t worthDecoding = 16;
} // namespace

FrameFinder::FrameFinder (PictureStream stream, const FrameIndex& index_, Decoder opened, DecoderThreads threads_,
                          std::size_t cacheBytes)
    : index (index_)
    , walk (std::move (stream), index_)
    , decoder (std::move (opened))
    , threads (threads_)
    , cache (cacheBytes)
{
}

std::int64_t FrameFinder::frameOf (std::int64_t packet) const
{
    const auto known = packet >= 0 && packet < static_cast<std::int64_t> (index.packets.size());
    return known ? index.packets[static_cast<std::size_t> (packet)].frame : -1;
}

/// The frame that must have come out of this run before frame k can be trusted: of all the pictures decoded before k,
/// the last to be shown. A fault in one that k is made from shows only then.
std::int64_t FrameFinder::settledBy (std::int64_t k) const
{
    const auto own = index.frames[static_cast<std::size_t> (k)].packet;
    auto last = k;
    for (auto p = std::max (begun, own - reach); index.reorder > 0 && p < own; ++p)
        last = std::max (last, frameOf (p));
    return last;
}

bool FrameFinder::isUnsettled (std::int64_t k) const
{
    return running && ! setWay && k >= firstGood && k <= latest && ! passed.contains (k) && settledBy (k) > latest;
}

/// Ends the run; frames that are not settled yet are forgotten.
void FrameFinder::leaveRun()
{
    for (auto k = std::max (firstGood, latest - reach); running && k <= latest; ++k)
        if (isUnsettled (k))
            cache.forget (k);
    running = false;
}

Result<Done> FrameFinder::freshDecoder (DecoderThreads opening)
{
    auto fresh = Decoder::open (walk.stream().path(), walk.stream().stream(), index.reorder, opening);
    if (! fresh)
        return fresh.error();
    decoder = std::move (fresh.value());
    return Done{};
}

bool FrameFinder::isMissing (std::int64_t k) const
{
    return index.packets[static_cast<std::size_t> (index.frames[static_cast<std::size_t> (k)].packet)].missing;
}

/// Whether any of the frames from `from` to before `to` should have come out.
bool FrameFinder::isLeftOut (std::int64_t from, std::int64_t to) const
{
    for (auto k = from; k < to; ++k)
        if (! isMissing (k) && ! passed.contains (k))
            return true;
    return false;
}

/// Whether the packet that walk has just read shows a picture that nobody wants and no other is made from.
bool FrameFinder::isUnwanted (std::int64_t packet) const
{
    const auto next = static_cast<std::size_t> (packet) + 1;
    return ! wanted.empty() && ! setWay && ! wanted.contains (frameOf (packet)) && ! index.packets[next - 1].secondField
           && (next >= index.packets.size() || ! index.packets[next].secondField)
           && isDisposable (*walk.stream().stream().codecpar, walk.packet());
}

/// Begins a run at the key of a group.
Result<Done> FrameFinder::begin (std::int64_t key)
{
    leaveRun();
    if (metDamage)
    {
        // Flushing would leave traces of the damage; another decoder has none.
        if (auto done = freshDecoder (threads); ! done)
            return done;
    }
    else
        decoder.flush();
    if (auto done = walk.goTo (key); ! done)
        return done;
    begun = group = key;
    // From the first packet on everything is as it always is. Elsewhere pictures in front of the key may be made from
    // ones that were jumped over.
    firstGood = key == 0 ? 0 : std::max<std::int64_t> (0, frameOf (key));
    latest = firstGood - 1;
    passed.clear();
    metDamage = setWay = false;
    running = true;
    return Done{};
}

/// Begins the set way for a group.
Result<Done> FrameFinder::beginAgain (std::int64_t key)
{
    leaveRun();
    if (auto done = freshDecoder (DecoderThreads::exact); ! done)
        return done;
    begun = index.keyBefore (key);
    group = key;
    if (auto done = walk.goTo (begun); ! done)
        return done;
    firstGood = 0;
    latest = -1;
    metDamage = setWay = true;
    running = true;
    return Done{};
}

bool FrameFinder::canGoOn (std::int64_t k) const
{
    if (! running || k <= latest || k < firstGood || passed.contains (k))
        return false;
    const auto key = index.decodeStart (k);
    return setWay ? key == group : ! metDamage && key <= walk.upcoming() + worthDecoding;
}

void FrameFinder::accept (DecodedFrame picture, std::int64_t target)
{
    ++decoded;
    const auto frame = frameOf (picture.packet);
    if (frame < firstGood || (metDamage && ! setWay))
        return;
    if (setWay)
    {
        latest = std::max (latest, frame);
        if (index.decodeStart (frame) == group)
            cache.keep (frame, { std::move (picture.frame), picture.damaged }, target, backward);
        return;
    }
    // A frame that was left out is damage too, even where the decoder makes no fuss about it.
    if (picture.damaged || isLeftOut (latest + 1, frame))
    {
        metDamage = true;
        return;
    }
    latest = std::max (latest, frame);
    cache.keep (frame, { std::move (picture.frame), false }, target, backward);
}

Result<FrameFinder::Outcome> FrameFinder::decodeTo (std::int64_t k)
{
    const auto settled = setWay ? k : settledBy (k);
    const auto take = [&] (DecodedFrame picture) { accept (std::move (picture), k); };
    while (cache.find (k) == nullptr || latest < settled)
    {
        if (latest > k + patience || ! running)
            return cache.find (k) != nullptr ? Outcome::found : Outcome::missing;
        const auto number = walk.next();
        if (! number)
            return number.error();
        const bool failedBefore = decoder.failed();
        if (*number && isUnwanted (**number))
        {
            passed.insert (frameOf (**number));
            continue;
        }
        if (*number)
            decoder.feed (walk.packet(), **number, take);
        else
        {
            decoder.drain (take);
            running = false;
        }
        if (decoder.failed() && ! failedBefore && (! *number || frameOf (**number) >= firstGood))
            metDamage = true;
        if (metDamage && ! setWay)
        {
            // What had come out before is sound once it is settled; leaveRun() needs the run for that.
            running = true;
            leaveRun();
            return Outcome::damage;
        }
    }
    return Outcome::found;
}

/// Decodes the one packet of a frame that stands alone.
Result<FrameFinder::Outcome> FrameFinder::decodeAlone (std::int64_t k, bool inSetWay)
{
    leaveRun();
    if (inSetWay || metDamage)
    {
        if (auto done = freshDecoder (inSetWay ? DecoderThreads::exact : threads); ! done)
            return done.error();
    }
    else
        decoder.flush();
    metDamage = setWay = false;
    const auto own = index.frames[static_cast<std::size_t> (k)].packet;
    if (auto done = walk.goTo (own); ! done)
        return done.error();
    const auto number = walk.next();
    if (! number)
        return number.error();
    const auto take = [&] (DecodedFrame picture)
    {
        ++decoded;
        if (frameOf (picture.packet) != k)
            return;
        metDamage = metDamage || picture.damaged;
        if (inSetWay || ! picture.damaged)
            cache.keep (k, { std::move (picture.frame), picture.damaged }, k, backward);
    };
    if (*number)
        decoder.feed (walk.packet(), **number, take);
    decoder.drain (take);
    metDamage = metDamage || decoder.failed();
    if (metDamage && ! inSetWay)
    {
        cache.forget (k);
        return Outcome::damage;
    }
    // What comes next gets another decoder than that of the set way.
    metDamage = metDamage || inSetWay;
    return cache.find (k) != nullptr ? Outcome::found : Outcome::missing;
}

Result<FrameFinder::Outcome> FrameFinder::decodeGroup (std::int64_t k, bool unsettled)
{
    const auto key = index.decodeStart (k);
    if (! unsettled && ! canGoOn (k))
        if (auto done = begin (key); ! done)
            return done.error();
    const bool wasSetWay = setWay;
    auto outcome = decodeTo (k);
    if (! outcome || *outcome == Outcome::found || wasSetWay)
        return outcome;
    if (index.standAlone())
        return decodeAlone (k, true);
    if (auto done = beginAgain (key); ! done)
        return done.error();
    return decodeTo (k);
}

Result<const KeptFrame*> FrameFinder::find (std::int64_t k)
{
    const bool isNext = k == asked + 1;
    backward = k == asked ? backward : k < asked;
    asked = k;
    if (! wanted.empty())
        wanted.insert (k);
    const bool unsettled = isUnsettled (k);
    if (const auto* kept = cache.find (k); kept != nullptr && ! unsettled)
        return kept;
    if (isMissing (k) || lost.contains (k))
        return static_cast<const KeptFrame*> (nullptr);

    auto outcome = Result<Outcome> (Outcome::missing);
    if (index.standAlone() && ! isNext)
    {
        outcome = decodeAlone (k, false);
        if (outcome && *outcome != Outcome::found)
            outcome = decodeAlone (k, true);
    }
    else
        outcome = decodeGroup (k, unsettled);
    if (! outcome)
        return outcome.error();
    if (*outcome == Outcome::found)
        return cache.find (k);
    lost.insert (k);
    return static_cast<const KeptFrame*> (nullptr);
}
} // namespace shutterbeat::media
