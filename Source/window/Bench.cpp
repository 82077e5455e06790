#include "window/Bench.h"

#include "time/Text.h"
#include "window/TimesAfter.h"

#include <algorithm>

namespace shutterbeat::window
{
Bench::Bench (const play::Clock& clock, Runner& whoRuns, std::string who)
    : transport (clock)
    , machine (clock)
    , runner (whoRuns)
    , person (std::move (who))
{
}

const std::vector<time::Rational>& usualSpeeds()
{
    static const std::vector<time::Rational> speeds{ 16, 18, { 200, 11 }, 20, { 240, 11 }, 22, 24 };
    return speeds;
}

const std::vector<std::string>& usualRates()
{
    static const std::vector<std::string> rates{ "23.976", "24", "25",    "29.97",   "29.97df", "30",
                                                 "48",     "50", "59.94", "59.94df", "60" };
    return rates;
}

void Bench::changed()
{
    if (onChanged)
        onChanged();
}

void Bench::giveKeysBack()
{
    if (onTakeKeys)
        onTakeKeys();
}

// ---- What is said

void Bench::say (std::string text)
{
    message = { Message::Kind::note, std::move (text) };
    changed();
}

void Bench::complain (std::string text)
{
    message = { Message::Kind::problem, std::move (text) };
    changed();
}

void Bench::putMessageAway()
{
    message = {};
    changed();
}

void Bench::ask (Question asked)
{
    question = std::move (asked);
    panel = Panel::question;
    changed();
}

void Bench::answer (std::size_t choice)
{
    if (! question || choice >= question->choices.size())
        return;
    // The answer may ask the next question: this one is put away first.
    const auto chosen = question->choices[choice].chosen;
    question.reset();
    panel = Panel::ledger;
    if (chosen)
        chosen();
    changed();
}

void Bench::showPanel (Panel shown)
{
    if (panel == Panel::question && shown != Panel::question)
        question.reset();
    panel = shown;
    changed();
}

void Bench::showPage (LedgerPage shown)
{
    page = shown;
    showPanel (Panel::ledger);
}

void Bench::jobFailed (const Error& error, const std::string& stopped)
{
    error.code == ErrorCode::cancelled ? say (stopped) : complain (error.text());
}

desk::OpenBook Bench::opened() const
{
    desk::OpenBook now = open;
    now.book = book();
    return now;
}

void Bench::take (const std::string& name, Result<spotting::Book> edited)
{
    if (! edited)
        return complain (edited.error().text());
    did (name, std::move (*edited), selected());
}

// ---- History

bool Bench::dirty() const
{
    return history && (! everSaved || ! (history->book() == open.book));
}

void Bench::did (const std::string& name, spotting::Book book, std::vector<std::string> selection)
{
    history->did (name, std::move (book), std::move (selection));
    recompute();
    changed();
}

void Bench::undo()
{
    if (! history || ! history->canUndo())
        return say ("Nothing to undo.");
    const auto name = history->undoName();
    cancelDrag();
    history->undo();
    recompute();
    say ("Undone: " + name + ".");
}

void Bench::goToStep (std::size_t step)
{
    if (! history || step >= history->all().size() || step == history->position())
        return;
    cancelDrag();
    while (history->position() > step)
        history->undo();
    while (history->position() < step)
        history->redo();
    recompute();
    say (step == 0 ? "Everything is undone: the book is as it was opened."
                   : "The book is as it was after: " + history->all()[step].name + ".");
}

void Bench::redo()
{
    if (! history || ! history->canRedo())
        return say ("Nothing to redo.");
    const auto name = history->redoName();
    cancelDrag();
    history->redo();
    recompute();
    say ("Done again: " + name + ".");
}

void Bench::recompute()
{
    auto computed = timesAfter (history->book(), timed, bookTimes.get());
    if (! computed)
    {
        bookTimes.reset();
        timings.reset();
        transport.clear();
        message = { Message::Kind::problem, computed.error().text() };
        return;
    }
    useTimes (std::move (*computed));
}

void Bench::useTimes (spotting::BookTimes times)
{
    bookTimes = std::make_unique<spotting::BookTimes> (std::move (times));
    plan.reset();
    const auto& now = history->book();
    const bool sameFilm = timings && sameTimings (now, timed) && transport.ready();
    timed = now;
    // A hit that is tapped while playing changes no time: the transport must not be set going anew.
    if (sameFilm)
        return;
    timings = std::make_shared<const film::Timings> (bookTimes->timings);
    screen.clear();
    transport.setTimings (timings);
}

// ---- Selection

const std::vector<std::string>& Bench::selected() const
{
    static const std::vector<std::string> nothing;
    return history ? history->selected() : nothing;
}

bool Bench::isSelected (const std::string& id) const
{
    const auto& ids = selected();
    return std::find (ids.begin(), ids.end(), id) != ids.end();
}

void Bench::select (std::vector<std::string> ids)
{
    if (! history)
        return;
    history->select (std::move (ids));
    changed();
}

void Bench::toggleSelected (const std::string& id)
{
    auto ids = selected();
    const auto found = std::find (ids.begin(), ids.end(), id);
    if (found == ids.end())
        ids.push_back (id);
    else
        ids.erase (found);
    select (std::move (ids));
}

std::vector<std::size_t> Bench::hitRows() const
{
    std::vector<std::size_t> rows;
    if (! bookTimes)
        return rows;
    for (std::size_t i = 0; i < bookTimes->hits.size(); ++i)
        rows.push_back (i);
    const auto by = [&] (auto key)
    {
        std::stable_sort (rows.begin(), rows.end(),
                          [&] (std::size_t a, std::size_t b)
                          { return key (bookTimes->hits[a].hit) < key (bookTimes->hits[b].hit); });
    };
    if (order == HitOrder::label)
        by ([] (const spotting::HitPoint& hit) { return time::lowerAscii (hit.label); });
    else if (order == HitOrder::kind)
        by ([] (const spotting::HitPoint& hit) { return hit.kind; });
    else if (order == HitOrder::weight)
        by ([] (const spotting::HitPoint& hit) { return hit.weight; });
    return rows;
}

// ---- The window's own settings

void Bench::setDay (bool on)
{
    day = on;
    if (onCommand)
        onCommand();
    changed();
}

void Bench::setScale (int percent)
{
    scalePercent = percent;
    if (onCommand)
        onCommand();
    changed();
}

void Bench::zoom (double factor)
{
    bandZoom = factor <= 0 ? 1.0 : std::clamp (bandZoom * factor, 1.0, 4000.0);
    if (onCommand)
        onCommand();
    changed();
}

void Bench::setPictureApart (bool on)
{
    pictureApart = on;
    if (onCommand)
        onCommand();
    changed();
}

void Bench::setLessMotion (bool on)
{
    lessMotion = on;
    if (onCommand)
        onCommand();
    changed();
}

void Bench::setWholePicture (bool on)
{
    wholePicture = on;
    if (onCommand)
        onCommand();
    changed();
}
} // namespace shutterbeat::window
