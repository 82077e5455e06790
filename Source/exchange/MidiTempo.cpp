#include "exchange/MidiTempo.h"

#include "music/WrittenTempo.h"
#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::exchange
{
namespace
{
using time::Rational;

/// What was typed, when two decimals write the very same microseconds; else the exact fraction.
Rational tempoOf (std::int64_t micros)
{
    const Rational exact (60'000'000, micros);
    const Rational typed (time::roundOf (exact * Rational (100)), 100);
    const auto written = typed.sign() > 0 ? music::writtenTempo (typed) : usageError ("", "");
    return written && written->microsPerQuarter == micros ? typed : exact;
}

/// The bars of a file: where each run of equal bars begins.
struct FileBars
{
    struct Run
    {
        std::int64_t tick = 0, bar = 1; ///< first bar of the run, from 1
        music::Meter meter;
    };
    std::vector<Run> runs;
    std::vector<std::string> notes;
};

FileBars barsOf (const MidiReading& reading)
{
    FileBars bars{ { { 0, 1, {} } }, {} };
    const Rational quarter (reading.division);
    auto meters = reading.meters;
    std::stable_sort (meters.begin(), meters.end(), [] (const MidiMeter& a, const MidiMeter& b) { return a.tick < b.tick; });
    for (const auto& meter : meters)
    {
        const auto run = bars.runs.back();
        const music::Meter next{ std::min (meter.beats, 64), std::min (meter.beatUnit, 64), {} };
        if (meter.tick == run.tick)
        {
            bars.runs.back().meter = next;
            continue;
        }
        const auto length = Rational (meter.tick - run.tick) / quarter;
        const auto whole = time::floorOf (length / music::barLength (run.meter));
        auto bar = run.bar + whole;
        if (const auto rest = length - Rational (whole) * music::barLength (run.meter); rest.sign() > 0)
        {
            // The bar is cut short by the new meter: a bar of its own length.
            const auto part = music::meterOfLength (rest);
            const auto tick = meter.tick - time::roundOf (rest * quarter);
            if (part && whole == 0)
                bars.runs.back().meter = *part;
            else if (part)
                bars.runs.push_back ({ tick, bar, *part });
            bars.notes.push_back ("the meter " + music::meterText (next) + " comes inside bar " + std::to_string (bar)
                                  + (part ? "; that bar is " + music::meterText (*part)
                                          : "; no meter is so short, the bars from there on are counted from the change"));
            ++bar;
        }
        bars.runs.push_back ({ meter.tick, bar, next });
    }
    return bars;
}

std::int64_t tickOfBar (const FileBars& bars, std::int64_t bar, int division)
{
    auto run = bars.runs.begin();
    while (run + 1 != bars.runs.end() && (run + 1)->bar <= bar)
        ++run;
    return run->tick + time::roundOf (Rational (bar - run->bar) * music::barLength (run->meter) * Rational (division));
}

/// The bar that a tick lies in, and whether it begins there.
std::pair<std::int64_t, bool> barOfTick (const FileBars& bars, std::int64_t tick, int division)
{
    auto run = bars.runs.begin();
    while (run + 1 != bars.runs.end() && (run + 1)->tick <= tick)
        ++run;
    const auto length = Rational (tick - run->tick, division) / music::barLength (run->meter);
    return { run->bar + time::floorOf (length), length.isWhole() };
}

Result<std::pair<std::int64_t, BarOneFrom>> findBarOne (const MidiReading& reading, const FileBars& bars, const std::string& number,
                                                        const std::string& title, std::optional<std::int64_t> fileBar)
{
    for (const auto& marker : reading.markers)
        if (namesCue (marker.text, number, title))
            return std::pair{ marker.tick, BarOneFrom::marker };
    if (fileBar)
    {
        if (*fileBar < 1 || *fileBar > 100'000)
            return usageError ("bar " + std::to_string (*fileBar), "bars of a MIDI file count from 1");
        return std::pair{ tickOfBar (bars, *fileBar, reading.division), BarOneFrom::given };
    }
    if (reading.smpteOffset)
        return std::pair{ std::int64_t{ 0 }, BarOneFrom::start };
    return usageError ("MIDI file", "has no marker named \"" + (number.empty() ? title : number)
                                        + "\" and no SMPTE offset; say which of its bars is bar 1 of the cue");
}

void addMeters (music::TempoPlan& plan, const FileBars& bars, std::int64_t barOne, int division, std::vector<std::string>& notes)
{
    const auto [homeBar, onBar] = barOfTick (bars, barOne, division);
    if (! onBar)
        notes.push_back ("bar 1 of the cue begins inside bar " + std::to_string (homeBar)
                         + " of the file; bars are counted from it");
    plan.meters.clear();
    for (std::size_t i = 0; i < bars.runs.size(); ++i)
    {
        const auto& run = bars.runs[i];
        const bool holds = i + 1 == bars.runs.size() || bars.runs[i + 1].tick > barOne;
        if (run.tick <= barOne && holds)
            plan.meters.push_back ({ 1, run.meter });
        else if (run.tick > barOne)
            plan.meters.push_back ({ run.bar - homeBar + (onBar ? 1 : 2), run.meter });
    }
    // What comes after a bar 1 that began inside a bar of the file is no longer in step with the file's bars.
    if (! onBar && plan.meters.size() > 1)
        plan.meters.resize (1);
    const auto lead = Rational (barOne, division);
    if (lead.sign() > 0 && lead < music::barLength (plan.meters.front().meter))
        plan.pickup = lead;
}
} // namespace

bool namesCue (const std::string& marker, const std::string& number, const std::string& title)
{
    const auto text = time::lowerAscii (time::trimmed (marker));
    const auto is = [&] (const std::string& name) { return ! name.empty() && text == time::lowerAscii (name); };
    return is (number) || is (title) || (! number.empty() && ! title.empty() && is (number + " " + title));
}

Result<MidiMap> tempoMapOf (const MidiReading& reading, const std::string& number, const std::string& title,
                            std::optional<std::int64_t> fileBar)
{
    if (reading.division <= 0)
        return unreadable ("MIDI file", "counts ticks of timecode, not beats; it has no bars or tempos");
    const auto bars = barsOf (reading);
    const auto found = findBarOne (reading, bars, number, title, fileBar);
    if (! found)
        return found.error();
    const auto [barOne, from] = *found;
    music::TempoPlan plan;
    std::vector<std::string> notes = bars.notes;
    addMeters (plan, bars, barOne, reading.division, notes);
    plan.tempos.clear();
    const auto first = -plan.pickup;
    std::int64_t micros = 500'000;
    for (const auto& tempo : reading.tempos)
    {
        const auto at = Rational (tempo.tick - barOne, reading.division);
        if (at <= first)
        {
            // Before the music: only the last one holds into it.
            micros = tempo.microsPerQuarter;
            continue;
        }
        if (plan.tempos.empty())
            plan.tempos.push_back ({ first, tempoOf (micros), Rational (1, 4), music::Course::steady, {} });
        if (plan.tempos.back().at == at)
            plan.tempos.back().beatsPerMinute = tempoOf (tempo.microsPerQuarter);
        else
            plan.tempos.push_back ({ at, tempoOf (tempo.microsPerQuarter), Rational (1, 4), music::Course::steady, {} });
    }
    if (plan.tempos.empty())
        plan.tempos.push_back ({ first, tempoOf (micros), Rational (1, 4), music::Course::steady, {} });
    if (reading.tempos.empty())
        notes.push_back ("the file has no tempo; the format's own 120 beats a minute hold");
    auto map = music::TempoMap::of (std::move (plan));
    if (! map)
        return unreadable ("MIDI file", map.error().text());
    return MidiMap{ std::move (*map), barOne, from, std::move (notes) };
}

time::Rational offsetSeconds (const std::array<unsigned char, 5>& offset)
{
    const int code = (offset[0] >> 5) & 3;
    const int labels = code == 0 ? 24 : code == 1 ? 25 : 30;
    const std::int64_t minutes = (offset[0] & 0x1F) * 60 + offset[1];
    const std::int64_t count = (minutes * 60 + offset[2]) * labels + offset[3];
    if (code == 2)
        return (Rational (count - 2 * (minutes - minutes / 10)) + Rational (offset[4], 100)) * Rational (1001, 30000);
    return (Rational (count) + Rational (offset[4], 100)) / Rational (labels);
}

std::vector<std::string> changesBetween (const music::TempoMap& book, const music::TempoMap& file, std::int64_t bars,
                                         const Rational& apart)
{
    std::vector<std::string> changes;
    if (book.plan().pickup != file.plan().pickup)
        changes.push_back ("pickup: " + time::fractionText (book.plan().pickup) + " quarter notes in the book, "
                           + time::fractionText (file.plan().pickup) + " in the file");
    std::int64_t meterFrom = 0;
    for (std::int64_t bar = 1; bar <= bars + 1; ++bar)
    {
        const bool differs = bar <= bars && music::barLength (book.meterOf (bar)) != music::barLength (file.meterOf (bar));
        if (differs && meterFrom == 0)
        {
            meterFrom = bar;
            changes.push_back ("bar " + std::to_string (bar) + ": " + music::meterText (book.meterOf (bar)) + " in the book, "
                               + music::meterText (file.meterOf (bar)) + " in the file");
        }
        if (! differs)
            meterFrom = 0;
    }
    const auto distance = [&] (std::int64_t bar) { return file.timeOf (file.barStart (bar)) - book.timeOf (book.barStart (bar)); };
    const auto lasts = [] (const music::TempoMap& map, std::int64_t bar)
    { return map.timeOf (map.barStart (bar + 1)) - map.timeOf (map.barStart (bar)); };
    bool before = false;
    for (std::int64_t bar = 1; bar <= bars; ++bar)
    {
        const auto off = lasts (file, bar) - lasts (book, bar);
        const bool differs = off > apart || -off > apart;
        if (differs && ! before)
            changes.push_back ("bar " + std::to_string (bar) + ": " + time::decimalText (book.tempoAt (book.barStart (bar)), 2)
                               + " quarter notes a minute in the book, " + time::decimalText (file.tempoAt (file.barStart (bar)), 2)
                               + " in the file; the bar lasts " + time::decimalText (lasts (file, bar), 3) + " s, not "
                               + time::decimalText (lasts (book, bar), 3));
        before = differs;
    }
    const auto end = distance (bars + 1);
    if (end > apart || -end > apart)
        changes.push_back ("after " + std::to_string (bars) + " bars the file is "
                           + time::decimalText (end.sign() < 0 ? -end : end, 3) + " s " + (end.sign() > 0 ? "later" : "earlier")
                           + " than the book");
    return changes;
}
} // namespace shutterbeat::exchange
