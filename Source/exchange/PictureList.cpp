#include "exchange/PictureList.h"

#include "exchange/CmxRead.h"
#include "exchange/OtioRead.h"
#include "time/Text.h"

#include <algorithm>

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
            if (clip.start.sign() < 0 || clip.start + clip.duration > Rational (longest) / timeline->rate.perSecond)
                return unreadable ("OTIO timeline", "clip \"" + clip.name + "\" lies before the timeline or more than a day after");
            end = std::max (end, timeline->frameOf (clip.start + clip.duration));
            order.push_back (i);
        }
    std::stable_sort (order.begin(), order.end(),
                      [&] (std::size_t a, std::size_t b) { return timeline->clips[a].track < timeline->clips[b].track; });
    // What lies above paints over what lies below.
    constexpr auto nothing = static_cast<std::uint32_t> (-1);
    std::vector<std::uint32_t> seen (static_cast<std::size_t> (end), nothing);
    for (const auto i : order)
    {
        const auto& clip = timeline->clips[i];
        const auto from = timeline->frameOf (clip.start), to = timeline->frameOf (clip.start + clip.duration);
        std::fill (seen.begin() + static_cast<std::ptrdiff_t> (from), seen.begin() + static_cast<std::ptrdiff_t> (to),
                   static_cast<std::uint32_t> (i));
    }
    for (std::size_t at = 0; at < seen.size();)
    {
        auto next = at;
        while (next < seen.size() && seen[next] == seen[at])
            ++next;
        PictureStretch stretch;
        stretch.start = static_cast<std::int64_t> (at);
        stretch.length = static_cast<std::int64_t> (next - at);
        stretch.kind = PictureStretch::Kind::hole;
        if (seen[at] != nothing)
        {
            const auto& clip = timeline->clips[seen[at]];
            stretch.kind = PictureStretch::Kind::picture;
            stretch.source = clip.media.empty() ? clip.name : clip.media;
            stretch.clip = clip.name;
            stretch.speed = clip.speed.value_or (Rational (1));
            const auto first = clip.sourceStart * timeline->rate.perSecond;
            stretch.first =
                Rational (time::roundOf (first)) + stretch.speed * Rational (stretch.start - timeline->frameOf (clip.start));
        }
        pictures.stretches.push_back (std::move (stretch));
        at = next;
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
