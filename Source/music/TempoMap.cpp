#include "music/TempoMap.h"

#include "music/RampLaw.h"
#include "music/TempoCheck.h"
#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::music
{
namespace
{
using time::Rational;
using Piece = TempoMap::Piece;

constexpr std::int64_t nanos = 1'000'000'000;

Rational clamped (const Rational& x, const Rational& low, const Rational& high)
{
    return x < low ? low : x > high ? high : x;
}

RampLaw lawOf (const Piece& piece)
{
    return { toLongDouble (piece.first), toLongDouble (piece.last), toLongDouble (piece.to - piece.from), piece.course };
}

/// Seconds from a piece's start to `b` quarter notes into it.
Rational within (const Piece& piece, const Rational& b)
{
    if (piece.course == Course::steady || b.sign() <= 0)
        return Rational (60) * b / piece.first;
    return nearestPart (lawOf (piece).secondsAt (toLongDouble (b)), nanos);
}

/// A fraction that has outgrown what can go on being added to is set to the nearest nanosecond.
Rational kept (const Rational& seconds)
{
    constexpr time::Int128 most = 1'000'000'000'000;
    return seconds.denominator() <= most ? seconds : nearestPart (toLongDouble (seconds), nanos);
}

Rational endTempo (const TempoPlan& plan, std::size_t change)
{
    const auto& from = plan.tempos[change];
    if (from.reached)
        return quartersPerMinute (*from.reached, from.unit);
    return quartersPerMinute (plan.tempos[change + 1].beatsPerMinute, plan.tempos[change + 1].unit);
}

/// The runs of a plan in order, their seconds not yet known.
std::vector<Piece> runsOf (const TempoPlan& plan)
{
    std::vector<Piece> runs;
    const auto add =
        [&] (const Rational& from, const Rational& to, const Rational& first, const Rational& last, Course course, bool stretch)
    {
        if (to > from)
            runs.push_back ({ from, to, 0, 0, first, last, course, stretch });
    };
    auto stretch = plan.stretches.begin();
    for (std::size_t i = 0; i < plan.tempos.size(); ++i)
    {
        const auto& change = plan.tempos[i];
        const bool last = i + 1 == plan.tempos.size();
        const auto tempo = quartersPerMinute (change.beatsPerMinute, change.unit);
        Rational at = change.at;
        // The first tempo also holds before itself, under stretches that lie there.
        if (i == 0 && stretch != plan.stretches.end() && stretch->from <= at)
            at = stretch->from - Rational (1);
        for (; stretch != plan.stretches.end() && (last || stretch->from < plan.tempos[i + 1].at); ++stretch)
        {
            add (at, stretch->from, tempo, tempo, Course::steady, false);
            const auto slow = Rational (60) * (stretch->to - stretch->from) / stretch->seconds;
            add (stretch->from, stretch->to, slow, slow, Course::steady, true);
            at = stretch->to;
        }
        if (last)
            runs.push_back ({ at, at, 0, 0, tempo, tempo, Course::steady, false });
        else
            add (at, plan.tempos[i + 1].at, tempo, change.course == Course::steady ? tempo : endTempo (plan, i), change.course,
                 false);
    }
    return runs;
}

/// Gives every run its seconds, counted from position 0 both ways.
void setSeconds (std::vector<Piece>& runs)
{
    for (auto& run : runs)
        run.duration = within (run, run.to - run.from);
    std::size_t home = 0;
    while (home + 1 < runs.size() && runs[home + 1].from <= Rational (0))
        ++home;
    runs[home].seconds = -within (runs[home], -runs[home].from);
    for (std::size_t i = home + 1; i < runs.size(); ++i)
        runs[i].seconds = kept (runs[i - 1].seconds + runs[i - 1].duration);
    for (std::size_t i = home; i > 0; --i)
        runs[i - 1].seconds = kept (runs[i].seconds - runs[i - 1].duration);
}

template <class Before>
const Piece& pieceAt (const std::vector<Piece>& pieces, const Rational& at, Before before)
{
    const auto after = std::upper_bound (pieces.begin(), pieces.end(), at, before);
    return after == pieces.begin() ? *after : *std::prev (after);
}

const Piece& pieceOf (const std::vector<Piece>& pieces, const Rational& quarters)
{
    return pieceAt (pieces, quarters, [] (const Rational& x, const Piece& piece) { return x < piece.from; });
}
} // namespace

std::string barBeatText (const BarBeat& at)
{
    std::string text = "bar " + std::to_string (at.bar) + " beat " + std::to_string (at.beat);
    return at.fraction.sign() == 0 ? text : text + "+" + time::fractionText (at.fraction);
}

Result<BarBeat> parseBarBeat (std::string_view text)
{
    const auto wrong = usageError ("\"" + std::string (text) + "\"", "is not a bar and beat; write 12, 12.3 or 12.3+1/2");
    std::string rest (time::trimmed (text));
    if (time::startsWith (rest, "bar "))
    {
        rest = rest.substr (4);
        if (const auto beat = rest.find (" beat "); beat != std::string::npos)
            rest.replace (beat, 6, ".");
    }
    BarBeat at;
    if (const auto plus = rest.find ('+'); plus != std::string::npos)
    {
        const auto fraction = time::parseRational (rest.substr (plus + 1));
        if (! fraction || ! fraction->valid() || fraction->sign() < 0 || *fraction >= Rational (1))
            return wrong;
        at.fraction = *fraction;
        rest = rest.substr (0, plus);
    }
    const auto parts = time::splitAt (rest, '.');
    const auto bar = time::parseWhole (parts[0]);
    const auto beat = parts.size() == 2 ? time::parseWhole (parts[1]) : std::optional<std::int64_t> (1);
    if (! bar || ! beat || parts.size() > 2 || *beat < 1 || *beat > 64 || *bar < -100'000 || *bar > 200'000)
        return wrong;
    at.bar = *bar;
    at.beat = static_cast<int> (*beat);
    return at;
}

Result<TempoMap> TempoMap::of (TempoPlan plan)
{
    if (auto fit = checkPlan (plan); ! fit)
        return fit.error();
    auto made = std::make_shared<Data>();
    made->pieces = runsOf (plan);
    setSeconds (made->pieces);
    Rational head;
    for (std::size_t i = 0; i < plan.meters.size(); ++i)
    {
        if (i > 0)
            head += Rational (plan.meters[i].bar - plan.meters[i - 1].bar) * barLength (plan.meters[i - 1].meter);
        made->barHeads.push_back (head);
    }
    for (const auto& piece : made->pieces)
        if (! piece.seconds.valid() || ! piece.duration.valid())
            return Error{ ErrorCode::overflow, "tempo at quarter " + time::fractionText (piece.from),
                          "its exact time does not fit; use fewer decimals" };
    made->plan = std::move (plan);
    TempoMap map;
    map.data = std::move (made);
    return map;
}

Result<TempoMap> TempoMap::steady (const Rational& beatsPerMinute)
{
    TempoPlan plan;
    plan.tempos.front().beatsPerMinute = beatsPerMinute;
    return of (std::move (plan));
}

Rational TempoMap::timeOf (const Rational& quarters) const
{
    const auto& piece = pieceOf (data->pieces, quarters);
    return piece.seconds + within (piece, quarters - piece.from);
}

Rational TempoMap::beatOf (const Rational& seconds) const
{
    const auto& piece = pieceAt (data->pieces, seconds, [] (const Rational& t, const Piece& p) { return t < p.seconds; });
    const auto in = seconds - piece.seconds;
    if (piece.course == Course::steady || in.sign() <= 0)
    {
        const auto at = piece.from + in * piece.first / Rational (60);
        return piece.to > piece.from ? std::min (at, piece.to) : at;
    }
    return piece.from + clamped (nearestPart (lawOf (piece).quartersAt (toLongDouble (in)), nanos), 0, piece.to - piece.from);
}

Rational TempoMap::tempoAt (const Rational& quarters) const
{
    const auto& piece = pieceOf (data->pieces, quarters);
    const auto in = quarters - piece.from;
    if (piece.course == Course::steady || in.sign() <= 0)
        return piece.first;
    return nearestPart (lawOf (piece).tempoAt (toLongDouble (in)), 1'000'000);
}

const Stretch* TempoMap::stretchAt (const Rational& quarters) const
{
    const auto& list = data->plan.stretches;
    const auto after =
        std::upper_bound (list.begin(), list.end(), quarters, [] (const Rational& x, const Stretch& s) { return x < s.from; });
    return after != list.begin() && quarters < std::prev (after)->to ? &*std::prev (after) : nullptr;
}

const Meter& TempoMap::meterOf (std::int64_t bar) const
{
    const auto& list = data->plan.meters;
    const auto after =
        std::upper_bound (list.begin(), list.end(), bar, [] (std::int64_t b, const MeterChange& m) { return b < m.bar; });
    return (after == list.begin() ? *after : *std::prev (after)).meter;
}

Rational TempoMap::barStart (std::int64_t bar) const
{
    const auto& list = data->plan.meters;
    const auto after =
        std::upper_bound (list.begin(), list.end(), bar, [] (std::int64_t b, const MeterChange& m) { return b < m.bar; });
    const auto i = after == list.begin() ? 0 : static_cast<std::size_t> (after - list.begin()) - 1;
    return data->barHeads[i] + Rational (bar - list[i].bar) * barLength (list[i].meter);
}

BarBeat TempoMap::barBeatOf (const Rational& quarters) const
{
    const auto& heads = data->barHeads;
    const auto after = std::upper_bound (heads.begin(), heads.end(), quarters);
    const auto i = after == heads.begin() ? 0 : static_cast<std::size_t> (after - heads.begin()) - 1;
    const auto& [firstBar, meter] = data->plan.meters[i];
    const auto bars = time::floorOf ((quarters - heads[i]) / barLength (meter));
    BarBeat at;
    at.bar = firstBar + bars;
    at.past = quarters - heads[i] - Rational (bars) * barLength (meter);
    const auto beats = beatLengths (meter);
    while (at.beat < static_cast<int> (beats.size()) && at.past >= beats[static_cast<std::size_t> (at.beat - 1)])
        at.past -= beats[static_cast<std::size_t> (at.beat++ - 1)];
    at.fraction = at.past / beats[static_cast<std::size_t> (at.beat - 1)];
    return at;
}

Result<Rational> TempoMap::positionOf (const BarBeat& at) const
{
    const auto beats = beatLengths (meterOf (at.bar));
    if (at.beat < 1 || at.beat > static_cast<int> (beats.size()))
        return usageError (barBeatText (at), "bar " + std::to_string (at.bar) + " is in " + meterText (meterOf (at.bar))
                                                 + " and has " + std::to_string (beats.size()) + " beats");
    Rational position = barStart (at.bar);
    for (int beat = 1; beat < at.beat; ++beat)
        position += beats[static_cast<std::size_t> (beat - 1)];
    return position + at.fraction * beats[static_cast<std::size_t> (at.beat - 1)];
}

Result<TempoMap> scaled (const TempoMap& map, const Rational& factor)
{
    TempoPlan plan = map.plan();
    if (! factor.valid() || factor.sign() <= 0)
        return usageError ("tempo factor " + time::fractionText (factor), "has to be above zero");
    // A factor of unwieldy numbers must not make tempos that no later sum can hold.
    const auto bounded = [&] (const Rational& x) { return x.denominator() <= nanos ? x : nearestPart (toLongDouble (x), nanos); };
    for (auto& change : plan.tempos)
    {
        change.beatsPerMinute = bounded (change.beatsPerMinute * factor);
        if (change.reached)
            change.reached = bounded (*change.reached * factor);
    }
    for (auto& stretch : plan.stretches)
        stretch.seconds = bounded (stretch.seconds / factor);
    return TempoMap::of (std::move (plan));
}
} // namespace shutterbeat::music
