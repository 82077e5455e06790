#include "exchange/PictureList.h"

#include "exchange/CmxRead.h"
#include "exchange/OtioRead.h"
#include "time/Text.h"

#include <algorithm>
#include <map>
#include <optional>

namespace shutterbeat::exchange
{
namespace
{
using time::Rational;
constexpr std::int64_t longest = 6'000'000; // frames: a day and more at 60

Result<PictureList> fromCmx (std::string_view bytes, const time::Rate& rate)
{
    const auto list = readCmxList (bytes, rate);
    if (! list)
        return list.error();
    if (! list->bad.empty())
        return unreadable ("CMX3600 list, line " + std::to_string (list->bad.front().line),
                           list->bad.front().why + "; a line that is left out would count as cut (read at " + time::rateName (rate)
                               + ": is that the list's rate?)");
    PictureList pictures{ list->title, rate, {}, list->warnings };
    const auto zero = list->start();
    bool blends = false;
    for (const auto& shot : list->shots())
    {
        PictureStretch stretch;
        stretch.kind = shot.kind == CmxShot::Kind::shot    ? PictureStretch::Kind::picture
                       : shot.kind == CmxShot::Kind::black ? PictureStretch::Kind::black
                                                           : PictureStretch::Kind::hole;
        stretch.start = shot.start;
        stretch.length = shot.length;
        if (shot.event)
        {
            const auto& event = list->events[*shot.event];
            stretch.source = event.reel;
            stretch.clip = event.transition == CmxTransition::cut || event.toClip.empty() ? event.fromClip : event.toClip;
            stretch.speed = event.speedFactor (rate);
            stretch.first = Rational (event.sourceIn) + stretch.speed * Rational (shot.start + zero - event.recordIn);
            blends = blends || event.transition != CmxTransition::cut;
        }
        pictures.stretches.push_back (std::move (stretch));
    }
    if (blends)
        pictures.notes.push_back ("a dissolve or wipe of the list counts as its new picture from its first frame on");
    return pictures;
}

/// Frames of which one clip is seen, or none.
struct Seen
{
    std::int64_t from = 0, to = 0;
    std::optional<std::size_t> clip;
};

/// The frames from 0 to `end` in order. What lies above hides what lies below: from the top down each clip takes what is free.
std::vector<Seen> seenOf (const OtioTimeline& timeline, const std::vector<std::size_t>& bottomUp, std::int64_t end)
{
    std::map<std::int64_t, std::int64_t> free; // first and end
    if (end > 0)
        free[0] = end;
    std::vector<Seen> all;
    for (auto clip = bottomUp.rbegin(); clip != bottomUp.rend(); ++clip)
    {
        const auto& at = timeline.clips[*clip];
        const auto from = timeline.frameOf (at.start), to = timeline.frameOf (at.start + at.duration);
        auto gap = free.upper_bound (from);
        if (gap != free.begin())
            --gap;
        while (gap != free.end() && gap->first < to)
        {
            const auto [first, last] = *gap;
            const auto a = std::max (first, from), b = std::min (last, to);
            if (a >= b)
            {
                ++gap;
                continue;
            }
            all.push_back ({ a, b, *clip });
            gap = free.erase (gap);
            if (first < a)
                free[first] = a;
            if (b < last)
                gap = free.emplace (b, last).first;
        }
    }
    for (const auto& [first, last] : free)
        all.push_back ({ first, last, {} });
    std::sort (all.begin(), all.end(), [] (const Seen& a, const Seen& b) { return a.from < b.from; });
    return all;
}

Result<PictureList> fromOtio (std::string_view bytes)
{
    const auto timeline = readOtio (bytes);
    if (! timeline)
        return timeline.error();
    PictureList pictures{ timeline->name, timeline->rate, {}, timeline->notes };
    std::int64_t end = 0;
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < timeline->clips.size(); ++i)
        if (const auto& clip = timeline->clips[i]; clip.video)
        {
            const auto last = clip.start + clip.duration;
            if (clip.start.sign() < 0 || ! last.valid() || last > Rational (longest) / timeline->rate.perSecond)
                return unreadable ("OTIO timeline", "clip \"" + clip.name + "\" lies before the timeline or more than a day after");
            end = std::max (end, timeline->frameOf (last));
            order.push_back (i);
        }
    std::stable_sort (order.begin(), order.end(),
                      [&] (std::size_t a, std::size_t b) { return timeline->clips[a].track < timeline->clips[b].track; });
    for (const auto& seen : seenOf (*timeline, order, end))
    {
        PictureStretch stretch;
        stretch.start = seen.from;
        stretch.length = seen.to - seen.from;
        stretch.kind = PictureStretch::Kind::hole;
        if (seen.clip)
        {
            const auto& clip = timeline->clips[*seen.clip];
            stretch.kind = PictureStretch::Kind::picture;
            stretch.source = clip.media.empty() ? clip.name : clip.media;
            stretch.clip = clip.name;
            stretch.speed = clip.speed.value_or (Rational (1));
            const auto first = clip.sourceStart * timeline->rate.perSecond;
            stretch.first =
                Rational (time::roundOf (first)) + stretch.speed * Rational (stretch.start - timeline->frameOf (clip.start));
        }
        pictures.stretches.push_back (std::move (stretch));
    }
    return pictures;
}
} // namespace

bool PictureList::ofOneFilm() const
{
    const PictureStretch* first = nullptr;
    for (const auto& stretch : stretches)
    {
        if (stretch.kind != PictureStretch::Kind::picture)
            continue;
        if (first == nullptr)
            first = &stretch;
        if (stretch.source != first->source || stretch.speed != Rational (1)
            || stretch.first - Rational (stretch.start) != first->first - Rational (first->start))
            return false;
    }
    return first != nullptr;
}

Result<PictureList> readPictureList (std::string_view bytes, const time::Rate& rate)
{
    const auto head = time::trimmed (time::startsWith (bytes, "\xEF\xBB\xBF") ? bytes.substr (3) : bytes);
    auto pictures = ! head.empty() && head.front() == '{' ? fromOtio (bytes) : fromCmx (bytes, rate);
    if (! pictures)
        return pictures;
    if (std::none_of (pictures->stretches.begin(), pictures->stretches.end(),
                      [] (const PictureStretch& s) { return s.kind == PictureStretch::Kind::picture; }))
        return unreadable ("list", "has no picture in it; only its video events and video tracks count");
    if (pictures->frames() > longest)
        return unreadable ("list", "is longer than a day");
    return pictures;
}
} // namespace shutterbeat::exchange
