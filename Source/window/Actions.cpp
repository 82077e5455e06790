#include "window/Actions.h"

#include "time/Rate.h"
#include "window/ActionsOfLedger.h"
#include "window/ActionsOfSound.h"
#include "window/ActionsOfView.h"

#include <algorithm>
#include <cassert>

namespace shutterbeat::window
{
bool withFilm (const Bench& bench)
{
    return bench.times() != nullptr;
}

namespace
{
bool withBook (const Bench& bench)
{
    return bench.hasBook();
}

bool withSelection (const Bench& bench)
{
    return bench.hasBook() && ! bench.selected().empty();
}

void bookActions (std::vector<Action>& all)
{
    all.push_back ({ "book.new",
                     "Book",
                     "New book from a film...",
                     "Ctrl+N",
                     [] (Bench& b) { b.beforeLeaving ("make another", [&b] { b.showPanel (Panel::newBook); }); },
                     {},
                     {},
                     {} });
    all.push_back ({ "book.open",
                     "Book",
                     "Open a book...",
                     "Ctrl+O",
                     [] (Bench& b) { b.beforeLeaving ("open another", [&b] { b.showPanel (Panel::openBook); }); },
                     {},
                     {},
                     {} });
    all.push_back ({ "book.save", "Book", "Save", "Ctrl+S", [] (Bench& b) { b.save(); }, withBook, {}, {} });
    all.push_back ({ "book.saveAs",
                     "Book",
                     "Save under another name...",
                     "Ctrl+Shift+S",
                     [] (Bench& b) { b.showPanel (Panel::saveAs); },
                     withBook,
                     {},
                     {} });
    all.push_back ({ "book.findFilm",
                     "Book",
                     "Find a missing film...",
                     "Ctrl+F",
                     [] (Bench& b)
                     {
                         if (b.missing().empty())
                             b.say ("No film of this book is missing.");
                         else
                             b.showPanel (Panel::findFilm);
                     },
                     withBook,
                     {},
                     {} });
    all.push_back ({ "book.import",
                     "Book",
                     "Read a list into the book...",
                     "Ctrl+I",
                     [] (Bench& b) { b.showPanel (Panel::importList); },
                     withFilm,
                     {},
                     {} });
    all.push_back ({ "book.close", "Book", "Close the window", "Ctrl+Q", [] (Bench& b) { b.quit(); }, {}, {}, {} });
}

void editActions (std::vector<Action>& all)
{
    all.push_back ({ "edit.undo",
                     "Edit",
                     "Undo",
                     "Ctrl+Z",
                     [] (Bench& b) { b.undo(); },
                     [] (const Bench& b) { return b.steps() != nullptr && b.steps()->canUndo(); },
                     {},
                     [] (const Bench& b) {
                         return b.steps() != nullptr && b.steps()->canUndo() ? "Undo: " + b.steps()->undoName()
                                                                             : std::string ("Undo");
                     } });
    all.push_back ({ "edit.redo",
                     "Edit",
                     "Do again",
                     "Ctrl+Shift+Z",
                     [] (Bench& b) { b.redo(); },
                     [] (const Bench& b) { return b.steps() != nullptr && b.steps()->canRedo(); },
                     {},
                     [] (const Bench& b) {
                         return b.steps() != nullptr && b.steps()->canRedo() ? "Do again: " + b.steps()->redoName()
                                                                             : std::string ("Do again");
                     } });
    all.push_back ({ "edit.remove",
                     "Edit",
                     "Remove what is selected",
                     "Delete",
                     [] (Bench& b) { b.removeSelected(); },
                     withSelection,
                     {},
                     {} });
    all.push_back ({ "edit.rename",
                     "Edit",
                     "Name what is selected",
                     "Enter",
                     [] (Bench& b)
                     {
                         if (b.onRename)
                             b.onRename();
                     },
                     withSelection,
                     {},
                     {} });
    all.push_back ({ "edit.note",
                     "Edit",
                     "Note on what is selected",
                     "Shift+Enter",
                     [] (Bench& b)
                     {
                         if (b.onNote)
                             b.onNote();
                     },
                     withSelection,
                     {},
                     {} });
    all.push_back ({ "edit.find",
                     "Edit",
                     "Find in the list",
                     "F",
                     [] (Bench& b)
                     {
                         if (b.onFind)
                             b.onFind();
                     },
                     withBook,
                     {},
                     {} });
    all.push_back ({ "edit.selectAll",
                     "Edit",
                     "Select all hits",
                     "Ctrl+A",
                     [] (Bench& b)
                     {
                         std::vector<std::string> ids;
                         for (const auto& hit : b.book().hits)
                             ids.push_back (hit.id);
                         b.select (std::move (ids));
                     },
                     withBook,
                     {},
                     {} });
    all.push_back (
        { "edit.selectNone", "Edit", "Select nothing", "Ctrl+Shift+A", [] (Bench& b) { b.select ({}); }, withSelection, {}, {} });
}

void playActions (std::vector<Action>& all)
{
    all.push_back ({ "play.toggle",
                     "Play",
                     "Play or pause",
                     "Space",
                     [] (Bench& b)
                     {
                         if (b.times() == nullptr)
                             return b.complain ("There is no film to play. Open a book with Ctrl+O, or make one with Ctrl+N.");
                         b.transport.toggle();
                         b.putMessageAway();
                     },
                     {},
                     [] (const Bench& b) { return b.transport.playing(); },
                     [] (const Bench& b) { return std::string (b.transport.playing() ? "Pause" : "Play"); } });
    const auto add = [&] (const char* id, const char* name, const char* key, std::function<void (Bench&)> act,
                          std::function<bool (const Bench&)> ticked = {}, std::function<std::string (const Bench&)> nameNow = {}) {
        all.push_back ({ id, "Play", name, key, std::move (act), withFilm, std::move (ticked), std::move (nameNow) });
    };
    add ("play.fromBefore", "Play from the pre-roll", "Shift+Space", [] (Bench& b) { b.playFromBefore(); });
    add (
        "play.preRoll", "Pre-roll", "R", [] (Bench& b) { b.nextPreRoll(); }, {},
        [] (const Bench& b)
        {
            if (b.preRollBars > 0)
                return "Pre-roll: " + std::to_string (b.preRollBars) + (b.preRollBars == 1 ? " bar" : " bars");
            const auto& roll = b.transport.preRoll();
            return roll.sign() == 0 ? std::string ("Pre-roll: none") : "Pre-roll: " + time::fractionText (roll) + " s";
        });
    add (
        "play.pace", "Playing speed", "S", [] (Bench& b) { b.nextPace(); }, {},
        [] (const Bench& b)
        {
            const auto& pace = b.transport.pace();
            return pace.running == play::Running::delivered ? std::string ("Plays as delivered")
                   : pace.running == play::Running::book    ? std::string ("Plays at the book's speeds")
                                                            : "Plays at " + time::speedName (pace.speed) + " film fr./s";
        });
    add ("play.oneSpeed", "Play at one speed...", "Shift+S", [] (Bench& b) { b.showPanel (Panel::playSpeed); });
    add ("play.shuttleOn", "Shuttle on", ".", [] (Bench& b) { b.shuttle (1); });
    add ("play.shuttleBack", "Shuttle back", ",", [] (Bench& b) { b.shuttle (-1); });
    add ("play.crawlOn", "Crawl on while held", "N", [] (Bench& b) { b.crawl (1); });
    add ("play.crawlBack", "Crawl back while held", "B", [] (Bench& b) { b.crawl (-1); });
    add ("play.forward", "A film frame on", "Right", [] (Bench& b) { b.step (1); });
    add ("play.back", "A film frame back", "Left", [] (Bench& b) { b.step (-1); });
    add ("play.forwardTen", "Ten film frames on", "Shift+Right", [] (Bench& b) { b.step (10); });
    add ("play.backTen", "Ten film frames back", "Shift+Left", [] (Bench& b) { b.step (-10); });
    add ("play.nextCut", "Next cut", "Down", [] (Bench& b) { b.toNext (b.cutPositions(), "cut"); });
    add ("play.previousCut", "Previous cut", "Up", [] (Bench& b) { b.toPrevious (b.cutPositions(), "cut"); });
    add ("play.nextCard", "Next card", "Shift+Down", [] (Bench& b) { b.toNext (b.cardPositions(), "card"); });
    add ("play.previousCard", "Previous card", "Shift+Up", [] (Bench& b) { b.toPrevious (b.cardPositions(), "card"); });
    add ("play.nextHit", "Next hit", "]", [] (Bench& b) { b.toHit (1); });
    add ("play.previousHit", "Previous hit", "[", [] (Bench& b) { b.toHit (-1); });
    add ("play.nextCue", "Next cue", "Ctrl+Down", [] (Bench& b) { b.toNext (b.cuePositions(), "cue"); });
    add ("play.previousCue", "Previous cue", "Ctrl+Up", [] (Bench& b) { b.toPrevious (b.cuePositions(), "cue"); });
    all.push_back ({ "play.start",
                     "Play",
                     "Picture start",
                     "Home",
                     [] (Bench& b) { b.goTo (b.times()->timings.shotHead (0)); },
                     withFilm,
                     {},
                     {} });
    all.push_back ({ "play.end",
                     "Play",
                     "Last picture",
                     "End",
                     [] (Bench& b) { b.goTo (b.times()->timings.shotHead (b.times()->timings.edition().shots.size())); },
                     withFilm,
                     {},
                     {} });
    all.push_back (
        { "play.goTo", "Play", "Go to a place...", "G", [] (Bench& b) { b.showPanel (Panel::goTo); }, withFilm, {}, {} });
    add (
        "play.loop", "Loop", "L", [] (Bench& b) { b.toggleLoop(); },
        [] (const Bench& b) { return b.transport.loop().has_value(); });
    add ("play.loopBegin", "Loop begins here", "I", [] (Bench& b) { b.loopBegin(); });
    add ("play.loopEnd", "Loop ends here", "O", [] (Bench& b) { b.loopEnd(); });
}

void hitActions (std::vector<Action>& all)
{
    all.push_back ({ "hit.tap",
                     "Hit",
                     "Place a hit here",
                     "H",
                     [] (Bench& b) { b.panel == Panel::taps ? b.calibrationTap() : b.tapHit(); },
                     [] (const Bench& b) { return b.times() != nullptr || b.panel == Panel::taps; },
                     {},
                     {} });
    all.push_back ({ "hit.calibrate", "Hit", "Calibrate your taps...", "T", [] (Bench& b) { b.startCalibration(); }, {}, {}, {} });
    all.push_back ({ "hit.kind", "Hit", "Next kind", "K", [] (Bench& b) { b.cycleKind(); }, withSelection, {}, {} });
    all.push_back ({ "hit.weight", "Hit", "Next weight", "W", [] (Bench& b) { b.cycleWeight(); }, withSelection, {}, {} });
    all.push_back (
        { "hit.agree", "Hit", "Agreed, or open again", "Y", [] (Bench& b) { b.toggleAgreed(); }, withSelection, {}, {} });
    all.push_back (
        { "hit.askedBy", "Hit", "Asked by the next person", "Shift+Y", [] (Bench& b) { b.nextAskedBy(); }, withSelection, {}, {} });
    all.push_back (
        { "hit.later", "Hit", "Move a film frame later", "Alt+Right", [] (Bench& b) { b.nudge (1); }, withSelection, {}, {} });
    all.push_back (
        { "hit.earlier", "Hit", "Move a film frame earlier", "Alt+Left", [] (Bench& b) { b.nudge (-1); }, withSelection, {}, {} });
    all.push_back (
        { "hit.propose", "Hit", "Propose hits on cuts and cards", "Ctrl+P", [] (Bench& b) { b.proposeHits(); }, withFilm, {}, {} });
    all.push_back ({ "cue.in", "Cue", "Begin a cue here", "C", [] (Bench& b) { b.cueIn(); }, withFilm, {}, {} });
    all.push_back ({ "cue.out", "Cue", "End the cue here", "Shift+C", [] (Bench& b) { b.cueOut(); }, withFilm, {}, {} });
    all.push_back (
        { "cue.take", "Cue", "Put selected hits in the cue here", "A", [] (Bench& b) { b.putInCue(); }, withSelection, {}, {} });
}

std::vector<Action> allActions()
{
    std::vector<Action> all;
    bookActions (all);
    editActions (all);
    playActions (all);
    addSoundActions (all);
    hitActions (all);
    addViewActions (all);
    addLedgerActions (all);
    return all;
}
} // namespace

const std::vector<Action>& actions()
{
    static const std::vector<Action> all = allActions();
    return all;
}

const Action& actionNamed (std::string_view id)
{
    const auto& all = actions();
    const auto found = std::find_if (all.begin(), all.end(), [&] (const Action& action) { return action.id == id; });
    assert (found != all.end());
    return *found;
}

const std::vector<std::string>& menuNames()
{
    static const std::vector<std::string> names{ "Book", "Edit", "Play", "Film", "Hit", "Cue", "Tempo", "View", "Overlay" };
    return names;
}

std::vector<desk::KeyGroup> keyGroups()
{
    std::vector<desk::KeyGroup> groups;
    for (const auto& menu : menuNames())
    {
        desk::KeyGroup group{ menu, {} };
        for (const auto& action : actions())
            if (action.menu == menu)
                group.rows.emplace_back (action.name, action.key);
        groups.push_back (std::move (group));
    }
    return groups;
}

bool perform (Bench& bench, const Action& action)
{
    if (action.possible && ! action.possible (bench))
        return false;
    action.act (bench);
    return true;
}
} // namespace shutterbeat::window
