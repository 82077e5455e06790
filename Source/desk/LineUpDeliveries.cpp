#include "desk/LineUpDeliveries.h"

#include "lineup/DiagnosisWords.h"
#include "lineup/RateMistakes.h"
#include "spotting/SoundEdit.h"
#include "time/Text.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::desk
{
namespace
{
using time::Rational;

/// Where things lie in one delivery, seconds from picture start of their reel.
class Shown
{
public:
    Shown (const film::Timings& filmTimings, bool isLive)
        : timings (filmTimings)
        , live (isLive)
    {
    }
    [[nodiscard]] std::optional<Rational> clockOf (const film::Place& place) const
    {
        const auto position = timings.find (place);
        if (! position)
            return std::nullopt;
        if (! live)
            return timings.times (*position).clock;
        return position->where == film::Position::Where::outside ? position->time + position->outsideSeconds : position->time;
    }
    [[nodiscard]] std::optional<Rational> startOf (const spotting::Book& book, const spotting::Sound& sound) const
    {
        if (sound.place.cue.empty())
            return sound.place.seconds;
        const auto* cue = spotting::cueOf (book, sound.place.cue);
        const auto in = cue != nullptr ? clockOf (cue->in) : std::nullopt;
        return in ? std::optional (*in + sound.place.seconds) : std::nullopt;
    }

private:
    const film::Timings& timings;
    bool live;
};

/// The factor as a sum where a usual one lies within a hundred-thousandth, else the number.
std::string factorText (double factor)
{
    const auto number = lineup::numberText (factor, 5);
    if (std::abs (factor - 1) < 0.00001)
        return "1";
    for (const auto& usual : lineup::rateMistakes())
        if (! usual.sampleRate && std::abs (time::toDouble (usual.ratio) - factor) < 0.00005)
            return time::fractionText (usual.ratio) + " (" + number + ")";
    return number;
}
} // namespace

Result<DeliveryColumn> parseDelivery (const std::string& text)
{
    DeliveryColumn column;
    if (time::startsWith (text, "live:"))
    {
        column.live = true;
        if (text == "live:book")
        {
            column.name = "live, as in the book";
            return column;
        }
        const auto speed = time::parseSpeed (text.substr (5));
        if (! speed)
            return speed.error();
        column.asked.running = speed->value;
        column.name = "live at " + time::speedText (speed->value);
        return column;
    }
    const auto colon = text.find (':');
    const auto rate = time::parseRate (text.substr (0, colon));
    if (! rate)
        return rate.error();
    column.asked.rate = rate->value;
    column.asked.fill = film::usualFill (rate->value);
    if (colon != std::string::npos)
    {
        const auto fill = film::parseFill (text.substr (colon + 1));
        if (! fill)
            return fill.error();
        column.asked.fill = *fill;
    }
    column.name = time::rateName (rate->value) + (*column.asked.fill ? ", " + film::fillName (*column.asked.fill) : " true");
    return column;
}

std::vector<DeliveryColumn> usualDeliveries()
{
    std::vector<DeliveryColumn> columns;
    for (const char* text :
         { "24", "23.976", "25", "25:from:24", "29.97", "live:book", "live:16", "live:18", "live:20", "live:22", "live:24" })
        columns.push_back (*parseDelivery (text));
    return columns;
}

Result<DeliveryGrid> deliveryGrid (const OpenBook& open, const spotting::BookTimes& times, const SoundLineUp& lined,
                                   const std::vector<DeliveryColumn>& columns)
{
    DeliveryGrid grid;
    grid.columns = columns;
    std::vector<double> heard;
    for (const auto& hit : lined.hits)
        if (times.hits[hit.row].hit.weight == spotting::Weight::must && hit.verdict != HitVerdict::outside)
        {
            grid.rows.push_back (hit.row);
            grid.meant.push_back (! hit.heard);
            heard.push_back (hit.heard.value_or (hit.expected));
        }
    if (grid.rows.empty())
        return usageError ("sound " + lined.sound.name, "has no must-hit to compare deliveries by; give its hits the weight must");
    grid.cells.resize (grid.rows.size());
    for (const auto& column : columns)
    {
        auto asked = column.asked;
        asked.edition = times.timings.edition().letter;
        const auto timings = spotting::timingsOf (open.book, asked);
        if (! timings)
            return timings.error();
        const Shown shown (*timings, column.live);
        const auto start = shown.startOf (open.book, lined.sound);
        std::vector<lineup::Stroke> strokes;
        for (std::size_t r = 0; r < grid.rows.size(); ++r)
        {
            const auto& hit = times.hits[grid.rows[r]].hit;
            const auto at = shown.clockOf (hit.place);
            DeliveryCell cell;
            if (at && start)
            {
                const double wanted = time::toDouble (*at + hit.lead - *start);
                cell.lateMs = 1000 * (heard[r] - wanted);
                cell.frames = column.live ? 0 : *cell.lateMs / 1000 * time::toDouble (timings->delivery().rate.perSecond);
                cell.verdict = *cell.lateMs < -hit.earlyMs ? HitVerdict::early
                               : *cell.lateMs > hit.lateMs ? HitVerdict::late
                                                           : HitVerdict::within;
                strokes.push_back ({ heard[r], wanted });
            }
            grid.cells[r].push_back (cell);
        }
        grid.mending.push_back (lineup::mendingOf (strokes));
        grid.factors.push_back (grid.mending.back() ? factorText (grid.mending.back()->factor) : "");
    }
    if (std::find (grid.meant.begin(), grid.meant.end(), true) != grid.meant.end())
        grid.notes.push_back ("hits without a clear accent are taken to strike where the whole sound puts them");
    return grid;
}
} // namespace shutterbeat::desk
