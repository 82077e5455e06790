#include "window/CutsDesk.h"

#include "desk/Cards.h"
#include "desk/Prints.h"
#include "spotting/CardEdit.h"
#include "spotting/ShotEdit.h"
#include "window/Bench.h"

#include <algorithm>

namespace shutterbeat::window
{
namespace
{
std::string together (const std::vector<std::string>& notes)
{
    std::string all;
    for (const auto& note : notes)
        all += (all.empty() ? "" : " ") + note + (note.empty() || note.back() == '.' ? "" : ".");
    return all;
}
} // namespace

const film::Shot* CutsDesk::shotHere() const
{
    if (bench.times() == nullptr)
        return nullptr;
    const auto& shots = bench.times()->timings.edition().shots;
    const auto at = bench.transport.position().shot;
    return at < shots.size() ? &shots[at] : nullptr;
}

void CutsDesk::refresh()
{
    const auto* shot = shotHere();
    if (bench.page != LedgerPage::film || shot == nullptr || shot->made || bench.job)
        return;
    const auto& prints = bench.book().prints;
    const auto is = std::find_if (prints.begin(), prints.end(), [&] (const film::Print& p) { return p.id == shot->print; });
    if (is == prints.end())
        return;
    const auto where = film::reelFrameOf (*is, shot->first);
    if (! where)
        return;
    const auto wanted = desk::filmPath (bench.opened(), is->reels[where->reel]);
    if (wanted == path)
        return;
    path = wanted;
    print = shot->print;
    reel = where->reel;
    measured.reset();
    ground.reset();
    found.reset();
    struct Fetched
    {
        std::shared_ptr<const desk::MeasuredFilm> film;
        std::shared_ptr<const scan::Groundwork> ground;
    };
    bench.startJob<Fetched> (
        "Looking through the film",
        [wanted] (const desk::Progress& progress) -> Result<Fetched>
        {
            auto film = desk::measureFilm (wanted, progress);
            if (! film)
                return film.error();
            Fetched all;
            all.ground = std::make_shared<const scan::Groundwork> (scan::groundwork (film->measures, film->film.rate));
            all.film = std::make_shared<const desk::MeasuredFilm> (std::move (*film));
            return all;
        },
        [this, wanted] (Fetched fetched)
        {
            if (wanted != path)
                return;
            measured = fetched.film;
            ground = fetched.ground;
            setThreshold (thresholdNow);
        },
        "Stopped. The film has not been looked through.");
}

void CutsDesk::setThreshold (double value)
{
    thresholdNow = std::clamp (value, 0.02, 0.98);
    if (measured && ground)
    {
        scan::Options options;
        options.threshold = thresholdNow;
        options.fileRate = measured->film.rate;
        found = scan::shots (measured->measures, *ground, options);
    }
    bench.changed();
}

void CutsDesk::takeCuts()
{
    if (! found)
        return bench.say ("The film has not been looked through yet.");
    bench.startJob<desk::ChangedPrints> (
        "Taking the cuts",
        [open = bench.opened(), id = print, at = thresholdNow] (const desk::Progress& progress)
        { return desk::scanAgain (open, id, at, progress); },
        [this, was = bench.opened().book] (desk::ChangedPrints changed)
        {
            if (! (was == bench.book()))
                return bench.complain ("The book was changed meanwhile, so the new cuts were not taken. Take them again.");
            bench.take ("scan again", std::move (changed.book));
            bench.say (together (changed.notes));
        },
        "Stopped. The cuts are as they were.");
}

std::optional<std::int64_t> CutsDesk::fileFrameShown() const
{
    const auto* shot = shotHere();
    if (shot == nullptr || shot->made || shot->print != print)
        return {};
    const auto times = bench.times()->timings.times (bench.transport.position());
    const auto& prints = bench.book().prints;
    const auto is = std::find_if (prints.begin(), prints.end(), [&] (const film::Print& p) { return p.id == print; });
    if (is == prints.end() || ! times.sourceFrame)
        return {};
    const auto at = film::reelFrameOf (*is, *times.sourceFrame);
    return at && at->reel == reel ? std::optional (at->fileFrame) : std::nullopt;
}

void CutsDesk::goToFileFrame (std::int64_t frame)
{
    const auto& prints = bench.book().prints;
    const auto is = std::find_if (prints.begin(), prints.end(), [&] (const film::Print& p) { return p.id == print; });
    if (is == prints.end() || bench.times() == nullptr)
        return;
    if (const auto picture = film::filmFrameOf (*is, reel, frame))
        if (const auto at = bench.times()->timings.find (film::PicturePlace{ print, *picture, 0 }))
            bench.goTo (*at);
}

void CutsDesk::cutHere()
{
    const auto* shot = shotHere();
    if (shot == nullptr)
        return;
    const auto source = bench.times()->timings.times (bench.transport.position()).sourceFrame;
    if (shot->made || ! source)
        return bench.complain ("A made card or black can't be cut.");
    auto edited = spotting::splitShot (bench.book(), bench.whoIsHere(), shot->print, *source);
    if (! edited)
        return bench.complain (edited.error().text());
    bench.take ("cut shot " + shot->name, std::move (edited->book));
    bench.say ("A cut before this picture. J takes it back, or Ctrl+Z.");
}

void CutsDesk::joinHere()
{
    const auto* shot = shotHere();
    if (shot == nullptr)
        return;
    const auto name = shot->name;
    auto joined = spotting::joinShot (bench.book(), bench.book().edition, shot->id);
    if (! joined)
        return bench.complain (joined.error().text());
    bench.take ("join shot " + name, std::move (joined));
    bench.say ("Shot " + name + " is one with the shot before it now.");
}

void CutsDesk::nextKind()
{
    const auto* shot = shotHere();
    if (shot == nullptr)
        return;
    spotting::ShotWords words;
    words.kind = shot->kind == film::ShotKind::shot   ? film::ShotKind::card
                 : shot->kind == film::ShotKind::card ? film::ShotKind::black
                                                      : film::ShotKind::shot;
    const auto said = "Shot " + shot->name + " is a " + std::string (film::shotKindName (*words.kind)) + " now.";
    bench.take ("kind of shot " + shot->name, spotting::setShots (bench.book(), bench.book().edition, { shot->id }, words));
    bench.say (said);
}

void CutsDesk::toggleLock()
{
    const auto* shot = shotHere();
    if (shot == nullptr)
        return;
    spotting::ShotWords words;
    words.locked = ! shot->locked;
    const auto said = *words.locked ? "Shot " + shot->name + " stays as it is, whatever a new scan finds."
                                    : "A new scan may change shot " + shot->name + ".";
    bench.take (*words.locked ? "lock shot" : "unlock shot",
                spotting::setShots (bench.book(), bench.book().edition, { shot->id }, words));
    bench.say (said);
}

void CutsDesk::readCards()
{
    desk::CardsWanted wanted;
    wanted.again = false;
    bench.startJob<desk::CardsDone> (
        "Reading the cards",
        [open = bench.opened(), wanted] (const desk::Progress& progress) { return desk::readCards (open, wanted, progress); },
        [this, was = bench.opened().book] (desk::CardsDone done)
        {
            if (! (was == bench.book()))
                return bench.complain ("The book was changed meanwhile, so the readings were not taken. Read the cards again.");
            bench.take ("read cards", std::move (done.book));
            bench.say (std::to_string (done.read) + " cards read, " + std::to_string (done.doubtful)
                       + " in doubt: look at those marked (?). " + together (done.notes));
        },
        "Stopped. No card was read.");
}

void CutsDesk::setSource (const std::string& shot, bool remade, const std::string& reason)
{
    spotting::ShotWords words;
    words.remade = remade;
    words.reason = reason;
    bench.take ("where a shot comes from", spotting::setShots (bench.book(), bench.book().edition, { shot }, words));
    bench.showPanel (Panel::ledger);
}

void CutsDesk::setWording (const std::string& shot, const std::string& words)
{
    bench.take ("wording of a card", spotting::setCardWording (bench.book(), shot, words));
}
} // namespace shutterbeat::window
