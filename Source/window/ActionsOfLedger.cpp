#include "window/ActionsOfLedger.h"

namespace shutterbeat::window
{
namespace
{
bool onPage (const Bench& bench, LedgerPage page)
{
    return withFilm (bench) && bench.page == page && bench.panel == Panel::ledger;
}

void filmActions (std::vector<Action>& all)
{
    const auto add = [&] (const char* id, const char* name, const char* key, std::function<void (Bench&)> act) {
        all.push_back ({ id, "Film", name, key, std::move (act), withFilm, {}, {} });
    };
    add ("film.cut", "Cut here", "X", [] (Bench& b) { b.cuts.cutHere(); });
    add ("film.join", "Join to the shot before", "J", [] (Bench& b) { b.cuts.joinHere(); });
    add ("film.kind", "Shot, card or black", "U", [] (Bench& b) { b.cuts.nextKind(); });
    add ("film.lock", "Lock", "Q", [] (Bench& b) { b.cuts.toggleLock(); });
    add ("film.source", "Where it comes from...", "Shift+U", [] (Bench& b) { b.showPanel (Panel::shotSource); });
    add ("film.readCards", "Read the cards", "Ctrl+R", [] (Bench& b) { b.cuts.readCards(); });
    all.push_back ({ "film.takeCuts",
                     "Film",
                     "Take the cuts of this threshold",
                     "Ctrl+T",
                     [] (Bench& b) { b.cuts.takeCuts(); },
                     [] (const Bench& b) { return onPage (b, LedgerPage::film); },
                     {},
                     {} });
}

void tempoActions (std::vector<Action>& all)
{
    const auto add = [&] (const char* id, const char* name, const char* key, std::function<void (Bench&)> act)
    {
        all.push_back (
            { id, "Tempo", name, key, std::move (act), [] (const Bench& b) { return onPage (b, LedgerPage::tempo); }, {}, {} });
    };
    add ("tempo.next", "Next tempo that fits", "PageDown", [] (Bench& b) { b.tempo.chooseNext (1); });
    add ("tempo.previous", "Previous tempo that fits", "PageUp", [] (Bench& b) { b.tempo.chooseNext (-1); });
    add ("tempo.hear", "Hear it against the picture", "P", [] (Bench& b) { b.tempo.hear(); });
    add ("tempo.take", "Take this tempo", "E", [] (Bench& b) { b.tempo.take(); });
    add ("tempo.tap", "Tap the beat along", "V", [] (Bench& b) { b.tempo.tap(); });
    add ("tempo.takeTapped", "Take the tapped tempo", "Shift+V", [] (Bench& b) { b.tempo.takeTapped(); });
}

void recutActions (std::vector<Action>& all)
{
    const auto add = [&] (const char* id, const char* name, const char* key, std::function<void (Bench&)> act)
    {
        all.push_back (
            { id, "Film", name, key, std::move (act), [] (const Bench& b) { return onPage (b, LedgerPage::recut); }, {}, {} });
    };
    add ("recut.same", "Recut: the same pictures", "Alt+S", [] (Bench& b) { b.recut.decide (spotting::Answer::same); });
    add ("recut.other", "Recut: not the same", "Alt+O", [] (Bench& b) { b.recut.decide (spotting::Answer::other); });
    add ("recut.later", "Recut: old a frame later", "Alt+L", [] (Bench& b) { b.recut.move (1); });
    add ("recut.earlier", "Recut: old a frame earlier", "Alt+E", [] (Bench& b) { b.recut.move (-1); });
}

} // namespace

void addLedgerActions (std::vector<Action>& all)
{
    filmActions (all);
    recutActions (all);
    tempoActions (all);
    const auto add = [&] (const char* id, const char* name, const char* key, std::function<void (Bench&)> act)
    {
        all.push_back (
            { id, "Film", name, key, std::move (act), [] (const Bench& b) { return onPage (b, LedgerPage::lineUp); }, {}, {} });
    };
    add ("lineUp.check", "Check the sound against the picture", "Ctrl+E", [] (Bench& b) { b.lineUp.check(); });
    add ("lineUp.hear", "Hear the hit looked at", "Ctrl+H", [] (Bench& b) { b.lineUp.hear(); });
    all.push_back ({ "edit.history",
                     "Edit",
                     "What was done",
                     "Ctrl+Y",
                     [] (Bench& b) { b.showPanel (b.panel == Panel::history ? Panel::ledger : Panel::history); },
                     [] (const Bench& b) { return b.hasBook(); },
                     {},
                     {} });
    all.push_back ({ "live.open",
                     "Play",
                     "Live showing: the whole screen for the player",
                     "F9",
                     [] (Bench& b) { b.live.open(); },
                     withFilm,
                     {},
                     {} });
    all.push_back ({ "handOver.make",
                     "Book",
                     "Make the sheets, lists and files",
                     "Ctrl+M",
                     [] (Bench& b) { b.handOver.make(); },
                     withFilm,
                     {},
                     {} });
    all.push_back (
        { "handOver.parcel", "Book", "Pack the parcel", "Ctrl+Shift+M", [] (Bench& b) { b.parcels.make(); }, withFilm, {}, {} });
}
} // namespace shutterbeat::window
