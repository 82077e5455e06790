#include "window/TempoDesk.h"

#include "desk/CueClick.h"
#include "play/Reels.h"
#include "time/Rational.h"
#include "time/Text.h"
#include "window/Bench.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::window
{
namespace
{
/// Seconds of a position over all reels, as the transport counts them.
double secondsInAll (const film::Timings& timings, const film::Position& at)
{
    const auto before = time::Rational (play::deliveredBefore (timings, at.reel)) / timings.delivery().rate.perSecond;
    return time::toDouble (before + timings.times (at).clock);
}

std::string tempoText (double beatsPerMinute)
{
    return time::decimalText (time::Rational (std::llround (beatsPerMinute * 100), 100), 2);
}
} // namespace

void TempoDesk::follow()
{
    const auto* times = bench.times();
    if (times == nullptr)
        return;
    std::string wanted;
    for (const auto& id : bench.selected())
        if (spotting::cueOf (bench.book(), id) != nullptr)
            wanted = id;
    if (wanted.empty())
        for (const auto& row : times->cues)
        {
            const auto in = times->timings.find (row.cue.in), out = times->timings.find (row.cue.out);
            const auto& here = bench.transport.position();
            if (in && out && here.reel == in->reel && here.time >= in->time && here.time < out->time)
                wanted = row.cue.id;
        }
    const bool still = spotting::cueOf (bench.book(), cueId) != nullptr;
    if (wanted.empty() && ! still)
        wanted = times->cues.empty() ? "" : times->cues.front().cue.id;
    if (! wanted.empty() || ! still)
        cueId = wanted;
}

void TempoDesk::toCue (int direction)
{
    const auto* times = bench.times();
    if (times == nullptr || times->cues.empty())
        return bench.say ("There is no cue yet. C begins one.");
    const auto count = static_cast<int> (times->cues.size());
    int at = 0;
    for (int i = 0; i < count; ++i)
        if (times->cues[static_cast<std::size_t> (i)].cue.id == cueId)
            at = i;
    cueId = times->cues[static_cast<std::size_t> ((at + direction + count) % count)].cue.id;
    bench.select ({ cueId });
}

void TempoDesk::setMeasure (music::FitMeasure measure)
{
    theWish.fit.measure = measure;
    ask();
}

void TempoDesk::setGrid (double beats)
{
    theWish.fit.grid = beats;
    ask();
}

void TempoDesk::setMustsBind (bool bind)
{
    theWish.mustsBind = bind;
    ask();
}

void TempoDesk::setFromIn (bool fromIn)
{
    theWish.start = fromIn ? "in" : "free";
    ask();
}

void TempoDesk::setRange (const std::string& typed)
{
    const auto ends = time::splitAt (typed, '-');
    const auto low = ends.size() == 2 ? time::parseRational (time::trimmed (ends[0])) : Result<time::Rational> (Error{});
    const auto high = ends.size() == 2 ? time::parseRational (time::trimmed (ends[1])) : Result<time::Rational> (Error{});
    if (! low || ! high || ! low->valid() || ! high->valid() || time::toDouble (*low) < 10 || time::toDouble (*high) > 400
        || ! (*low < *high))
        return bench.complain ("A range of tempos is written from-to, such as 60-120, within 10 to 400.");
    theWish.fit.lowest = time::toDouble (*low);
    theWish.fit.highest = time::toDouble (*high);
    ask();
}

std::string TempoDesk::rangeText() const
{
    const auto number = [] (double value) { return time::shortDecimalText (time::Rational (std::llround (value * 100), 100), 2); };
    return number (theWish.fit.lowest) + "-" + number (theWish.fit.highest);
}

void TempoDesk::ask()
{
    askedOf.reset();
    refresh();
    bench.changed();
}

void TempoDesk::refresh()
{
    if (bench.page != LedgerPage::tempo || bench.times() == nullptr)
        return;
    follow();
    const auto& book = bench.book();
    const bool same = askedOf && askedCue == cueId && askedOf->hits.sharesWith (book.hits) && askedOf->cues.sharesWith (book.cues)
                      && askedOf->editions.sharesWith (book.editions) && askedOf->edition == book.edition
                      && askedOf->delivery == book.delivery;
    if (same)
        return;
    if (fitting)
    {
        again = true;
        return;
    }
    if (askedCue != cueId)
        which.reset();
    askedOf = book;
    askedCue = cueId;
    if (cueId.empty())
    {
        found.reset();
        why = "There is no cue yet. Go to where music starts and press C.";
        return;
    }
    fitting = true;
    const auto outcome = std::make_shared<std::optional<Result<desk::TempoAnswer>>>();
    bench.inBackground (
        [outcome, book, cue = cueId, wish = theWish]
        {
            const auto times = spotting::timesOf (book);
            outcome->emplace (times ? desk::fitTempo (*times, cue, wish) : Result<desk::TempoAnswer> (times.error()));
        },
        [this, outcome]
        {
            fitting = false;
            if (auto& fit = **outcome)
            {
                found = std::move (*fit);
                why = found->best.empty() ? found->obstacle : std::string();
            }
            else
            {
                found.reset();
                why = fit.error().text();
            }
            if (! found || found->best.empty())
                which.reset();
            else if (! which || *which >= found->best.size())
                which = 0;
            if (again)
            {
                again = false;
                refresh();
            }
            bench.changed();
        });
}

void TempoDesk::choose (std::optional<std::size_t> wanted)
{
    which = found && wanted && *wanted < found->best.size() ? wanted : std::nullopt;
    if (which)
    {
        const auto& listed = found->best[*which];
        bench.say (tempoText (listed.point.beatsPerMinute) + " beats a minute: " + std::to_string (listed.within) + " of "
                   + std::to_string (found->hits.size()) + " hits within their limits.");
    }
}

void TempoDesk::chooseNext (int direction)
{
    if (! found || found->best.empty())
        return bench.say (why.empty() ? "Nothing is listed yet." : why);
    const auto count = static_cast<int> (found->best.size());
    const int now = which ? static_cast<int> (*which) : (direction > 0 ? -1 : 0);
    choose (static_cast<std::size_t> ((now + direction + count) % count));
}

void TempoDesk::chooseNear (double beatsPerMinute)
{
    if (! found || found->best.empty())
        return;
    std::size_t nearest = 0;
    for (std::size_t i = 1; i < found->best.size(); ++i)
        if (std::abs (found->best[i].point.beatsPerMinute - beatsPerMinute)
            < std::abs (found->best[nearest].point.beatsPerMinute - beatsPerMinute))
            nearest = i;
    choose (nearest);
}

std::optional<spotting::Book> TempoDesk::tried() const
{
    const auto map = triedMap();
    if (! map)
        return {};
    auto book = desk::withTempo (bench.book(), cueId, map->first, map->second);
    return book ? std::optional (std::move (*book)) : std::nullopt;
}

std::optional<std::pair<music::TempoMap, time::Rational>> TempoDesk::triedMap() const
{
    if (bench.page != LedgerPage::tempo || ! found || ! which || ! bench.hasBook() || askedCue != cueId)
        return {};
    const auto& listed = found->best[*which];
    const auto map = music::TempoMap::steady (listed.beatsPerMinute);
    return map ? std::optional (std::pair (*map, listed.start)) : std::nullopt;
}

void TempoDesk::hear()
{
    const auto* cue = bench.hasBook() ? spotting::cueOf (bench.book(), cueId) : nullptr;
    if (cue == nullptr || bench.times() == nullptr)
        return bench.say ("There is no cue to hear. C begins one.");
    const auto in = bench.times()->timings.find (cue->in);
    if (! in)
        return bench.complain (in.error().text());
    auto wish = bench.soundWish();
    const bool first = ! wish.click;
    wish.click = true;
    bench.setSound (wish);
    bench.goTo (*in);
    bench.transport.play();
    if (first)
        bench.say ("Click on. " + desk::clickCaution());
}

void TempoDesk::take()
{
    auto book = tried();
    if (! book)
        return bench.say ("No tempo is looked at. Page down chooses the next one.");
    const auto& listed = found->best[*which];
    const auto* cue = spotting::cueOf (bench.book(), cueId);
    bench.take ("tempo of " + cue->number, std::move (*book));
    bench.say ("Cue " + cue->number + " runs at " + tempoText (listed.point.beatsPerMinute) + " beats a minute now.");
}

void TempoDesk::tap()
{
    const auto* times = bench.times();
    const auto* cue = times == nullptr ? nullptr : spotting::cueOf (bench.book(), cueId);
    if (cue == nullptr)
        return bench.say ("There is no cue to tap in. C begins one.");
    if (! bench.transport.playing())
    {
        taps.clear();
        return bench.say ("Play first: taps are timed against the picture.");
    }
    // The moment of the key on the film's own clock: taps between two frames count as they are.
    taps.push_back (bench.tapSeconds());
    tapsFit = music::tappedTempo (taps);
    if (! tapsFit)
        return bench.say ("Tap on: the tempo shows from the second tap on.");
    bench.say ("Tapped " + std::to_string (tapsFit->taps) + " beats: " + tempoText (tapsFit->beatsPerMinute())
               + " beats a minute, ragged by " + std::to_string (std::llround (tapsFit->spread * 1000)) + " ms. Shift+V takes it.");
    chooseNear (tapsFit->beatsPerMinute());
}

void TempoDesk::takeTapped()
{
    const auto* times = bench.times();
    const auto* cue = times == nullptr ? nullptr : spotting::cueOf (bench.book(), cueId);
    if (cue == nullptr || ! tapsFit)
        return bench.say ("Nothing was tapped yet. V taps the beat while the film plays.");
    const auto in = times->timings.find (cue->in);
    if (! in)
        return bench.complain (in.error().text());
    const auto tempo = time::Rational (std::llround (tapsFit->beatsPerMinute() * 100), 100);
    const double from = tapsFit->firstBeat - secondsInAll (times->timings, *in);
    auto book = desk::withTempo (bench.book(), cueId, music::TempoMap::steady (tempo),
                                 time::Rational (std::llround (from * 1e9), 1'000'000'000));
    if (! book)
        return bench.complain (book.error().text());
    bench.take ("tapped tempo of " + cue->number, std::move (*book));
    bench.say ("Cue " + cue->number + " runs at " + time::decimalText (tempo, 2) + " beats a minute, as tapped.");
}
} // namespace shutterbeat::window
