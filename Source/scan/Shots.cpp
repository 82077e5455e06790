#include "scan/Shots.h"

#include "scan/Changes.h"
#include "scan/FlashTitles.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

namespace shutterbeat::scan
{
namespace
{
float medianOf (std::vector<float> values)
{
    const auto middle = values.begin() + static_cast<std::ptrdiff_t> (values.size() / 2);
    std::nth_element (values.begin(), middle, values.end());
    return *middle;
}

std::vector<CardSample>::const_iterator firstSample (const Measures& measures, std::int64_t frame)
{
    return std::lower_bound (measures.cards.begin(), measures.cards.end(), frame,
                             [] (const CardSample& sample, std::int64_t wanted) { return sample.frame < wanted; });
}

/// How much a shot looks like a card: the middle of its samples, without those where there is nothing to see unless that is
/// nearly all of it (very faint writing).
double cardOf (const Measures& measures, std::int64_t first, std::int64_t end, bool black)
{
    std::vector<float> likelihoods;
    for (auto sample = firstSample (measures, first); sample != measures.cards.end() && sample->frame < end; ++sample)
        if (black || ! isBlank (measures.frames[static_cast<std::size_t> (sample->frame)]))
            likelihoods.push_back (sample->likelihood);
    return likelihoods.empty() ? 0 : medianOf (std::move (likelihoods));
}

/// Where a scene slowly turned into a card, or a card into a scene, within [first, end): a side of at least a second or so
/// that surely is one and another that surely is not. Nothing: no such place.
std::optional<std::int64_t> slowCard (const Measures& measures, std::int64_t first, std::int64_t end)
{
    constexpr std::int64_t least = 24; // file frames on each side
    constexpr float sure = 0.8F;
    constexpr float leastStep = 0.1F;
    constexpr std::size_t farthest = 32; // samples each way
    std::vector<CardSample> samples;
    for (auto s = firstSample (measures, first); s != measures.cards.end() && s->frame < end; ++s)
        if (! isBlank (measures.frames[static_cast<std::size_t> (s->frame)]))
            samples.push_back (*s);
    std::optional<std::int64_t> place;
    float best = 2 * sure - 1;
    for (std::size_t i = 1; i < samples.size(); ++i)
    {
        if (samples[i].frame - first < least || end - samples[i].frame < least)
            continue;
        if (std::abs (samples[i].likelihood - samples[i - 1].likelihood) < leastStep)
            continue;
        std::vector<float> before;
        std::vector<float> after;
        for (std::size_t k = i > farthest ? i - farthest : 0; k < std::min (samples.size(), i + farthest); ++k)
            (k < i ? before : after).push_back (samples[k].likelihood);
        // The middle of each side, and of the half of it that is next to the place.
        const std::vector<float> near (before.begin() + static_cast<std::ptrdiff_t> (before.size() / 2), before.end());
        const std::vector<float> next (after.begin(), after.begin() + static_cast<std::ptrdiff_t> ((after.size() + 1) / 2));
        const float rise = medianOf (after) - medianOf (before);
        const float nearRise = medianOf (next) - medianOf (near);
        const float found = rise > 0 ? std::min (rise, nearRise) : std::min (-rise, -nearRise);
        const float step = std::abs (samples[i].likelihood - samples[i - 1].likelihood);
        if (found > 2 * sure - 1 && found + step > best)
        {
            best = found + step;
            place = (samples[i - 1].frame + samples[i].frame + 1) / 2;
        }
    }
    return place;
}

bool mostlyBlack (const Measures& measures, std::int64_t first, std::int64_t end)
{
    std::int64_t black = 0;
    for (auto n = first; n < end; ++n)
        black += isBlack (measures.frames[static_cast<std::size_t> (n)]) ? 1 : 0;
    return black * 10 >= (end - first) * 8;
}
/// Adds a gradual span where a shot between two changes is partly a card.
void addSlowCards (const Measures& measures, const std::vector<Change>& changes, std::vector<Span>& gradual)
{
    std::vector<std::int64_t> edges{ 0, static_cast<std::int64_t> (measures.frames.size()) };
    for (const auto& change : changes)
        edges.push_back (change.frame);
    for (const auto& span : gradual)
        edges.push_back ((span.first + span.end) / 2);
    std::sort (edges.begin(), edges.end());
    for (std::size_t i = 0; i + 1 < edges.size(); ++i)
        if (const auto place = slowCard (measures, edges[i], edges[i + 1]))
            gradual.push_back ({ *place - 3, *place + 3, SpanKind::dissolve });
}

/// A flash title is a shot of its own, whatever its few pictures were taken for.
void addFlashTitles (const std::vector<Span>& titles, double threshold, std::vector<Change>& changes, std::vector<Span>& spans)
{
    constexpr std::int64_t near = 1; // file frames
    for (const Span& title : titles)
    {
        std::erase_if (changes, [&] (const Change& c) { return c.frame >= title.first - near && c.frame <= title.end + near; });
        std::erase_if (spans,
                       [&] (const Span& s)
                       {
                           const bool passing = s.kind == SpanKind::flash || s.kind == SpanKind::dip || s.kind == SpanKind::damage;
                           return passing && s.first < title.end + near && s.end > title.first - near;
                       });
        for (const std::int64_t frame : { title.first, title.end })
            changes.push_back ({ frame, std::max<double> (threshold, title.strength) });
    }
}

/// Those that are no cut and not in a gradual change, strongest first.
std::vector<FoundJoin> joinsWithin (const std::vector<FoundJoin>& all, const std::vector<Change>& changes,
                                    const std::vector<Span>& spans)
{
    constexpr std::int64_t apart = 2; // file frames from a cut
    std::vector<FoundJoin> joins;
    std::size_t atSpan = 0;
    std::int64_t busyUntil = 0;
    for (const FoundJoin& join : all)
    {
        const auto next = std::lower_bound (changes.begin(), changes.end(), join.frame - apart,
                                            [] (const Change& c, std::int64_t frame) { return c.frame < frame; });
        for (; atSpan < spans.size() && spans[atSpan].first <= join.frame; ++atSpan)
            busyUntil = std::max (busyUntil, spans[atSpan].end);
        const bool cut = next != changes.end() && next->frame <= join.frame + apart;
        if (! cut && join.frame > busyUntil)
            joins.push_back (join);
    }
    std::stable_sort (joins.begin(), joins.end(), [] (const FoundJoin& a, const FoundJoin& b) { return a.strength > b.strength; });
    return joins;
}
} // namespace

std::string_view spanKindName (SpanKind kind)
{
    switch (kind)
    {
    case SpanKind::flash:
        return "flash";
    case SpanKind::dip:
        return "dip";
    case SpanKind::damage:
        return "damage";
    case SpanKind::black:
        return "black";
    case SpanKind::white:
        return "white";
    case SpanKind::fade:
        return "fade";
    case SpanKind::iris:
        return "iris";
    case SpanKind::dissolve:
        return "dissolve";
    case SpanKind::wipe:
        break;
    }
    return "wipe";
}

Groundwork groundwork (const Measures& measures, const std::optional<time::Rational>& fileRate)
{
    Groundwork ground;
    ground.curve = changeCurve (measures);
    ground.light = lightSpans (measures);
    ground.gradual = gradualChanges (measures, ground.light);
    ground.fades = fadesOf (measures, ground.curve, ground.light);
    ground.joins = joinsOf (measures, ground.light);
    ground.titles = flashTitles (measures);

    // Where a shot begins is no news of the cadence; the usual threshold serves.
    auto light = ground.light;
    const Options usual;
    std::vector<std::int64_t> heads;
    for (const auto& change : changesAbove (measures, ground.curve, usual.threshold, usual.shortestBlack, light))
        heads.push_back (change.frame);
    for (const auto& change : ground.gradual)
        heads.push_back ((change.span.first + change.span.end) / 2);
    std::sort (heads.begin(), heads.end());
    ground.cadence = findCadence (measures, heads, fileRate);
    return ground;
}

std::string_view cadenceKindName (CadenceKind kind)
{
    switch (kind)
    {
    case CadenceKind::plain:
        return "plain";
    case CadenceKind::regular:
        return "regular";
    case CadenceKind::still:
        return "still";
    case CadenceKind::blended:
        return "blended";
    case CadenceKind::irregular:
        return "irregular";
    case CadenceKind::unsure:
        break;
    }
    return "not sure";
}

ScanResult shots (const Measures& measures, const Options& options)
{
    return shots (measures, groundwork (measures, options.fileRate), options);
}

ScanResult shots (const Measures& measures, const Groundwork& ground, const Options& options)
{
    ScanResult result;
    result.fileFrames = static_cast<std::int64_t> (measures.frames.size());
    result.cadence = ground.cadence.cadence;
    result.cadenceSaid = ground.cadence.said;
    result.cadenceSure = ground.cadence.sure;
    result.askedSpeed = ground.cadence.speed;
    result.stretches = ground.cadence.stretches;
    if (result.fileFrames == 0)
        return result;
    result.curve = ground.curve;
    result.spans = ground.light;
    auto changes = changesAbove (measures, result.curve, options.threshold, options.shortestBlack, result.spans);
    std::vector<Span> gradual;
    for (const GradualChange& change : ground.gradual)
    {
        const auto near = std::lower_bound (changes.begin(), changes.end(), change.from,
                                            [] (const Change& c, std::int64_t frame) { return c.frame < frame; });
        if (near == changes.end() || near->frame > change.to)
            gradual.push_back (change.span);
    }
    addSlowCards (measures, changes, gradual);
    for (const Span& span : gradual)
        changes.push_back ({ (span.first + span.end) / 2, std::max (options.threshold, span.strength) });
    addFlashTitles (ground.titles, options.threshold, changes, result.spans);
    std::sort (changes.begin(), changes.end(), [] (const Change& a, const Change& b) { return a.frame < b.frame; });
    // A card that rises out of the dark is a fade already.
    const auto isFade = [&] (const Span& span)
    {
        return std::any_of (ground.fades.begin(), ground.fades.end(),
                            [&] (const Span& fade) { return fade.first <= span.end && fade.end >= span.first; });
    };
    std::copy_if (gradual.begin(), gradual.end(), std::back_inserter (result.spans),
                  [&] (const Span& span) { return ! isFade (span); });
    result.spans.insert (result.spans.end(), ground.fades.begin(), ground.fades.end());
    std::stable_sort (result.spans.begin(), result.spans.end(), [] (const Span& a, const Span& b) { return a.first < b.first; });
    if (! gradual.empty())
        result.notes.push_back ("dissolves and wipes are cut in their middle: look at them");
    result.joins = joinsWithin (ground.joins, changes, result.spans);

    FoundShot shot;
    shot.strength = 1;
    const auto close = [&] (std::int64_t end)
    {
        shot.endFile = end;
        shot.firstFilm = result.cadence.filmFrameAt (shot.firstFile);
        shot.endFilm = end == result.fileFrames ? result.cadence.filmFrames() : result.cadence.filmFrameAt (end);
        const bool black = mostlyBlack (measures, shot.firstFile, shot.endFile);
        shot.card = cardOf (measures, shot.firstFile, shot.endFile, black);
        // Next to nothing is to be seen on black: then only sure writing counts.
        constexpr double sure = 0.8;
        shot.kind = shot.card >= (black ? std::max (sure, options.cardThreshold) : options.cardThreshold) ? film::ShotKind::card
                    : black                                                                               ? film::ShotKind::black
                                                                                                          : film::ShotKind::shot;
        if (shot.endFile > shot.firstFile)
            result.shots.push_back (shot);
    };
    for (const auto& change : changes)
    {
        if (change.frame <= shot.firstFile)
            continue;
        close (change.frame);
        shot = {};
        shot.firstFile = change.frame;
        shot.strength = change.strength;
    }
    close (result.fileFrames);
    return result;
}
} // namespace shutterbeat::scan
