#include "desk/LineUpChecks.h"

#include "lineup/DiagnosisWords.h"
#include "time/Clock.h"

#include <cmath>

namespace shutterbeat::desk
{
namespace
{
using time::Rational;

/// "0:08.000", to the millisecond.
std::string clockOf (double seconds)
{
    return time::clockText (Rational (static_cast<std::int64_t> (std::llround (seconds * 1000))) / Rational (1000), 3);
}

std::string framesText (double seconds, double perSecond)
{
    return lineup::numberText (std::abs (seconds) * perSecond, 1) + " frames";
}

/// A pop that belongs somewhere: its moment from picture start, and what it is called.
struct WantedPop
{
    Rational clock;
    std::string where;
};

std::vector<WantedPop> wantedPops (const film::Timings& timings, std::size_t reel)
{
    const auto& delivery = timings.delivery();
    const auto frames = time::roundOf (Rational (2) * delivery.countingRate());
    const auto lead = Rational (frames) / delivery.rate.perSecond;
    const std::string distance = std::to_string (frames) + " frames (" + time::secondsText (lead, 3) + " s)";
    return { { -lead, distance + " before picture start" },
             { timings.clockOf (timings.deliveredLength (reel) + frames - 1),
               distance + " after the last frame, counted from its start" } };
}
} // namespace

std::vector<SoundFinding> popFindings (const film::Timings& timings, std::size_t reel, const Rational& start,
                                       const HeardSound& heard)
{
    std::vector<SoundFinding> findings;
    const double perSecond = time::toDouble (timings.delivery().rate.perSecond);
    std::vector<bool> used (heard.pops.size(), false);
    for (const auto& wanted : wantedPops (timings, reel))
    {
        const double at = time::toDouble (wanted.clock - start);
        std::size_t nearest = heard.pops.size();
        for (std::size_t i = 0; i < heard.pops.size(); ++i)
            if (! used[i] && std::abs (heard.pops[i].seconds - at) < 30
                && (nearest == heard.pops.size()
                    || std::abs (heard.pops[i].seconds - at) < std::abs (heard.pops[nearest].seconds - at)))
                nearest = i;
        // A pop in the first half of a sound is no tail pop, and the other way round.
        const bool head = wanted.clock.sign() < 0;
        if (nearest < heard.pops.size() && (heard.pops[nearest].seconds < 0.5 * heard.length) == head)
        {
            used[nearest] = true;
            const double late = heard.pops[nearest].seconds - at;
            const std::string found = "Pop found at " + clockOf (heard.pops[nearest].seconds) + " of the sound";
            if (std::abs (late) * perSecond < 0.5)
                findings.push_back ({ found + ", where it belongs: " + wanted.where + "." });
            else
                findings.push_back ({ found + ", " + lineup::lateText (late) + " (" + framesText (late, perSecond)
                                          + "): it belongs " + wanted.where + ". Move the sound "
                                          + lineup::numberText (std::abs (late), 3) + " s " + (late > 0 ? "earlier" : "later")
                                          + ", or look whether its pop was made for another rate.",
                                      true });
        }
        // Who sends no pop at the head is not asked for one at the tail.
        else if ((head || ! heard.pops.empty()) && at >= 0 && at + 0.05 <= heard.length && at >= heard.from && at <= heard.to)
            findings.push_back (
                { "Pop missing: one belongs at " + clockOf (at) + " of the sound, " + wanted.where + ", and there is none.",
                  true });
    }
    return findings;
}

std::vector<SoundFinding> endFindings (const spotting::CueTimes& cue, const Rational& start, const HeardSound& heard)
{
    if (! cue.in || ! cue.out)
        return {};
    if (heard.sounding.silent)
        return { { "The sound is silent.", true } };
    const double out = time::toDouble (cue.out->clock - start), late = heard.sounding.last - out;
    const std::string amount = lineup::numberText (std::abs (late), 1) + " s";
    if (out > heard.to + 0.001 && heard.to < heard.length)
        return {};
    if (late < -1)
        return { { "It ends " + amount + " before the out of cue " + cue.cue.number + ".", true } };
    if (late > 0.5)
        return { { "It is still heard " + amount + " after the out of cue " + cue.cue.number + ".", true } };
    return { { "It ends with its cue (" + amount + (late < 0 ? " before" : " after") + " its out)." } };
}
} // namespace shutterbeat::desk
