#include "music/TempoCheck.h"

namespace shutterbeat::music
{
namespace
{
using time::Rational;

std::string at (const char* what, const Rational& position)
{
    return std::string (what) + " at quarter " + time::fractionText (position);
}

/// Small enough that no exact time made from it overflows.
bool fits (const Rational& x, std::int64_t most, std::int64_t parts)
{
    return x.valid() && x >= Rational (-most) && x <= Rational (most) && x.denominator() <= time::Int128{ parts };
}

bool isPosition (const Rational& x)
{
    return fits (x, 1'000'000, 1'000'000'000);
}

Result<Done> checkTempo (const Rational& beatsPerMinute, const Rational& unit, const std::string& where)
{
    if (! fits (unit, 4, 64) || unit < Rational (1, 64))
        return usageError (where, "its beat has to be a note value from a sixty-fourth to four whole notes");
    if (! fits (beatsPerMinute, 1000, 1'000'000'000) || beatsPerMinute < Rational (1, 100))
        return usageError (where, "the tempo lies from 0.01 to 1000 beats a minute, with up to nine decimals");
    if (quartersPerMinute (beatsPerMinute, unit) > Rational (4000))
        return usageError (where, "the tempo is faster than 4000 quarter notes a minute");
    return Done{};
}

Result<Done> checkMeters (const TempoPlan& plan)
{
    if (plan.meters.empty() || plan.meters.front().bar != 1)
        return usageError ("meters", "the first has to be bar 1's");
    for (std::size_t i = 0; i < plan.meters.size(); ++i)
    {
        const auto& [bar, meter] = plan.meters[i];
        const std::string where = "meter at bar " + std::to_string (bar);
        if ((i > 0 && bar <= plan.meters[i - 1].bar) || bar > 100'000)
            return usageError (where, "meters have to be in order of their bars, up to bar 100000");
        if (auto read = parseMeter (meterText (meter)); ! read || ! (*read == meter))
            return usageError (where, "is not a meter: " + meterText (meter));
    }
    for (std::size_t i = 0; i < plan.keys.size(); ++i)
        if (plan.keys[i].fifths < -7 || plan.keys[i].fifths > 7 || plan.keys[i].bar < 1
            || (i > 0 && plan.keys[i].bar <= plan.keys[i - 1].bar))
            return usageError ("key at bar " + std::to_string (plan.keys[i].bar),
                               "keys are in order of bars from 1, with up to 7 sharps or flats");
    if (! isPosition (plan.pickup) || plan.pickup.sign() < 0 || plan.pickup >= barLength (plan.meters.front().meter))
        return usageError ("pickup of " + time::fractionText (plan.pickup) + " quarter notes", "has to be shorter than bar 1");
    return Done{};
}

Result<Done> checkStretch (const TempoPlan& plan, std::size_t i)
{
    const auto& stretch = plan.stretches[i];
    const std::string where = at (stretch.hold ? "hold" : "free passage", stretch.from);
    if (! isPosition (stretch.from) || ! isPosition (stretch.to) || stretch.to <= stretch.from)
        return usageError (where, "has to end after it begins");
    if (! fits (stretch.seconds, 100'000, 1'000'000'000) || stretch.seconds.sign() <= 0)
        return usageError (where, "has to last longer than nothing, with up to nine decimals of a second");
    if (i > 0 && stretch.from < plan.stretches[i - 1].to)
        return usageError (where, "begins before the one before it has ended");
    for (std::size_t c = 0; c < plan.tempos.size(); ++c)
    {
        const auto& change = plan.tempos[c];
        if (c > 0 && change.at > stretch.from && change.at < stretch.to)
            return usageError (where, "has a tempo change inside, at quarter " + time::fractionText (change.at));
        const bool meets = stretch.to > change.at && (c + 1 == plan.tempos.size() || stretch.from < plan.tempos[c + 1].at);
        if (change.course != Course::steady && meets)
            return usageError (where, "lies in a ramp; end the ramp before it");
    }
    return Done{};
}
} // namespace

Result<Done> checkPlan (const TempoPlan& plan)
{
    if (auto meters = checkMeters (plan); ! meters)
        return meters.error();
    if (plan.tempos.empty())
        return usageError ("tempos", "there has to be one");
    if (plan.tempos.size() > 100'000 || plan.stretches.size() > 100'000)
        return usageError ("tempos", "there are more than a cue can hold (100000)");
    for (std::size_t i = 0; i < plan.tempos.size(); ++i)
    {
        const auto& change = plan.tempos[i];
        const std::string where = at ("tempo", change.at);
        if (! isPosition (change.at) || (i > 0 && change.at <= plan.tempos[i - 1].at))
            return usageError (where, "changes have to be in order of their positions, within a million quarter notes");
        if (auto fit = checkTempo (change.beatsPerMinute, change.unit, where); ! fit)
            return fit.error();
        if (change.reached)
            if (auto fit = checkTempo (*change.reached, change.unit, where); ! fit)
                return fit.error();
        if (change.course != Course::steady && i + 1 == plan.tempos.size())
            return usageError (where, "a ramp needs another change after it, where it ends");
        if (change.course == Course::steady && change.reached)
            return usageError (where, "a steady tempo reaches no other; make it a ramp");
    }
    for (std::size_t i = 0; i < plan.stretches.size(); ++i)
        if (auto fit = checkStretch (plan, i); ! fit)
            return fit.error();
    return Done{};
}
} // namespace shutterbeat::music
