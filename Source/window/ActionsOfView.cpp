#include "window/ActionsOfView.h"

#include <cstdlib>
#include <filesystem>

namespace shutterbeat::window
{
namespace
{
/// Beside the book, or into the home folder; says where.
void writeKeys (Bench& bench)
{
    const auto* home = std::getenv ("HOME");
    const auto folder = bench.path().empty() ? std::filesystem::path (home == nullptr ? "." : home)
                                             : std::filesystem::path (bench.path()).parent_path();
    const auto file = (folder / "shutterbeat-keys.pdf").string();
    const auto notes = desk::writeKeySheet (file, keyGroups(), bench.handOver.letter());
    if (! notes)
        return bench.complain (notes.error().text());
    bench.say ("The sheet of all keys lies in " + file + ".");
}

void viewActions (std::vector<Action>& all)
{
    const std::tuple<const char*, const char*, LedgerPage> pages[] = { { "view.hits", "List of hits", LedgerPage::hits },
                                                                       { "view.cues", "List of cues", LedgerPage::cues },
                                                                       { "view.film", "Shots and cards", LedgerPage::film },
                                                                       { "view.tempo", "Tempo of a cue", LedgerPage::tempo },
                                                                       { "view.recut", "Recut", LedgerPage::recut },
                                                                       { "view.lineUp", "Line-up of recorded music",
                                                                         LedgerPage::lineUp },
                                                                       { "view.handOver", "Handing over", LedgerPage::handOver } };
    int number = 0;
    for (const auto& [id, name, page] : pages)
        all.push_back ({ id,
                         "View",
                         name,
                         std::to_string (++number),
                         [page = page] (Bench& b) { b.showPage (page); },
                         {},
                         [page = page] (const Bench& b) { return b.page == page; },
                         {} });
    const std::tuple<const char*, const char*, const char*, LedgerPage> further[] = {
        { "view.speeds", "Running speeds", "8", LedgerPage::speeds },
        { "view.prints", "Prints and reels", "9", LedgerPage::prints },
        { "view.parcel", "Parcel for one person", "Shift+P", LedgerPage::parcel }
    };
    for (const auto& [id, name, key, page] : further)
        all.push_back ({ id,
                         "View",
                         name,
                         key,
                         [page = page] (Bench& b) { b.showPage (page); },
                         {},
                         [page = page] (const Bench& b) { return b.page == page; },
                         {} });
    all.push_back ({ "view.zoomIn", "View", "Band: closer", "+", [] (Bench& b) { b.zoom (2); }, withFilm, {}, {} });
    all.push_back ({ "view.zoomOut", "View", "Band: wider", "-", [] (Bench& b) { b.zoom (0.5); }, withFilm, {}, {} });
    all.push_back ({ "view.whole", "View", "Band: whole film", "0", [] (Bench& b) { b.zoom (0); }, withFilm, {}, {} });
    all.push_back ({ "view.picture",
                     "View",
                     "Picture alone, whole screen",
                     "F11",
                     [] (Bench& b) { b.setWholePicture (! b.wholePicture); },
                     withFilm,
                     [] (const Bench& b) { return b.wholePicture; },
                     {} });
    all.push_back ({ "view.apart",
                     "View",
                     "Picture on a second screen",
                     "F8",
                     [] (Bench& b) { b.setPictureApart (! b.pictureApart); },
                     withFilm,
                     [] (const Bench& b) { return b.pictureApart; },
                     {} });
    all.push_back ({ "view.lessMotion",
                     "View",
                     "Less motion",
                     "Ctrl+Shift+L",
                     [] (Bench& b) { b.setLessMotion (! b.lessMotion); },
                     {},
                     [] (const Bench& b) { return b.lessMotion; },
                     {} });
    all.push_back ({ "view.day",
                     "View",
                     "Light for the day",
                     "Ctrl+L",
                     [] (Bench& b) { b.setDay (! b.day); },
                     {},
                     [] (const Bench& b) { return b.day; },
                     {} });
    int digit = 0;
    for (const int percent : { 100, 125, 150, 200 })
        all.push_back ({ "view.scale" + std::to_string (percent),
                         "View",
                         "Scale " + std::to_string (percent) + " %",
                         "Ctrl+" + std::to_string (++digit),
                         [percent] (Bench& b) { b.setScale (percent); },
                         {},
                         [percent] (const Bench& b) { return b.scalePercent == percent; },
                         {} });
    all.push_back ({ "view.actions",
                     "View",
                     "All actions and their keys",
                     "F1",
                     [] (Bench& b) { b.showPanel (b.panel == Panel::actions ? Panel::ledger : Panel::actions); },
                     {},
                     {},
                     {} });
    all.push_back ({ "view.keySheet", "View", "Sheet of all keys, to print", "Ctrl+K", writeKeys, {}, {}, {} });
}

void overlayActions (std::vector<Action>& all)
{
    const auto add = [&] (const char* id, const char* name, const char* key, bool OverlayWish::*part)
    {
        all.push_back ({ id,
                         "Overlay",
                         name,
                         key,
                         [part] (Bench& b)
                         {
                             auto wish = b.overlay();
                             wish.*part = ! (wish.*part);
                             b.setOverlay (wish);
                         },
                         withFilm,
                         [part] (const Bench& b) { return b.overlay().*part; },
                         {} });
    };
    add ("overlay.timecode", "Timecode", "Alt+1", &OverlayWish::timecode);
    add ("overlay.frame", "Film frame", "Alt+2", &OverlayWish::frame);
    add ("overlay.feet", "Feet", "Alt+3", &OverlayWish::feet);
    add ("overlay.cue", "Cue that runs", "Alt+4", &OverlayWish::cue);
    add ("overlay.countdown", "Countdown to the next hit", "Alt+5", &OverlayWish::countdown);
    add ("overlay.streamers", "Streamers to must and should hits", "Alt+6", &OverlayWish::streamers);
    add ("overlay.punches", "Punches on must hits", "Alt+7", &OverlayWish::punches);
    add ("overlay.flashes", "Flashes on must hits", "Alt+8", &OverlayWish::flashes);
}
} // namespace

void addViewActions (std::vector<Action>& all)
{
    viewActions (all);
    overlayActions (all);
}
} // namespace shutterbeat::window
