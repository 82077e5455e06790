#include "Screenplay.h"

#include "Shots.h"

#include <algorithm>

namespace shutterbeat::demo
{

namespace
{

Shot action (const char* name, int length, void (*draw) (Stage&))
{
    Shot shot;
    shot.name = name;
    shot.length = length;
    shot.photograph = draw;
    return shot;
}

Shot gagShot (const char* name, int length, void (*draw) (Stage&), int frame, const char* what)
{
    Shot shot = action (name, length, draw);
    shot.gag = { frame, what };
    return shot;
}

Shot card (const char* name, int length, const char* words, CardLook look = CardLook::words)
{
    Shot shot;
    shot.name = name;
    shot.kind = ShotKind::card;
    shot.length = length;
    shot.words = words;
    shot.look = look;
    return shot;
}

std::vector<Shot> lockedCut()
{
    Shot opening = action ("harbour-wide", 104, harbourWide);
    opening.irisIn = 26;
    opening.irisAt = { 386, 250 };
    Shot tastes = action ("keeper-tastes", 74, keeperTastes);
    tastes.irisOut = 22;
    tastes.irisAt = { 310, 250 };
    Shot night = action ("night-beam", 84, nightBeam);
    night.fadeOut = 30;
    Shot black = action ("black-after-fade", 20, nullptr);
    black.kind = ShotKind::black;

    return {
        card ("title", 72, "The Keeper’s Cake\nA Comedy in One Reel", CardLook::title),
        card ("card-town", 62, "In Bølgeby, where even the herring go to bed at eight."),
        opening,
        card ("card-baker", 54, "Fru Fløde baked for the whole coast."),
        action ("kitchen-whisk", 84, kitchenWhisk),
        action ("baker-close", 46, bakerClose),
        action ("clock-insert", 34, clockInsert),
        card ("card-seventy-today", 60, "“Old Grævling is seventy today!” cried Fru Fløde."),
        action ("letter-insert", 68, letterInsert),
        action ("kitchen-cherry", 78, kitchenCherry),
        action ("dog-close", 34, dogClose),
        card ("card-not-one-lick", 50, "“To the lighthouse, Pepper! And not one lick!”"),
        action ("street-wide", 88, streetWide),
        action ("street-track", 66, streetTrack),
        action ("wheel-insert", 22, wheelInsert),
        action ("hill-runaway", 52, hillRunaway),
        action ("baker-shout", 24, bakerShout),
        card ("card-stop", 36, "“Stop that cake!”"),
        action ("runaway-track", 48, runawayTrack),
        gagShot ("constable-halt", 62, constableHalt, kHelmetFlies,
                 "the wagon takes the constable's legs and his helmet flies off"),
        action ("chase", 58, chase),
        action ("market-barrel", 64, marketBarrel),
        action ("dog-run", 18, dogRun),
        action ("watch-room", 80, watchRoomDark),
        action ("keeper-sigh", 52, keeperSigh),
        card ("card-not-a-crumb", 50, "“Seventy years, and not a crumb.”"),
        action ("jetty-rush", 58, jettyRush),
        gagShot ("jetty-leap", 62, jettyLeap, kBoatSplash, "the wagon drops into the rowing boat with a splash"),
        action ("jetty-skid", 42, jettySkid),
        action ("boat-at-sea", 82, boatAtSea),
        action ("gallery-watch", 46, galleryWatch),
        action ("telescope-view", 56, telescopeView),
        action ("keeper-amazed", 26, keeperAmazed),
        action ("rock-wide", 68, rockWide),
        gagShot ("cake-lands", 58, cakeLands, kCakeLands, "the cake lands on the keeper's head"),
        tastes,
        card ("card-best-cake", 54, "“The best cake I ever wore, dear lady.”"),
        action ("party", 92, party),
        action ("candle-out", 42, candleOut),
        night,
        black,
        card ("end", 58, "The End", CardLook::end),
    };
}

std::size_t indexOf (const std::vector<Take>& takes, const std::string& name)
{
    const auto found = std::find_if (takes.begin(), takes.end(), [&] (const Take& take) { return take.shot.name == name; });
    return static_cast<std::size_t> (found - takes.begin());
}

} // namespace

int EditionPlan::filmFrames() const
{
    int sum = 0;
    for (const Take& take : takes)
        sum += take.length();
    return sum;
}

EditionPlan editionA()
{
    EditionPlan plan;
    plan.letter = "a";
    for (const Shot& shot : lockedCut())
        plan.takes.push_back ({ shot, 0 });
    plan.wear = { .seed = 1907,
                  .zoom = 1.0,
                  .shiftX = 0,
                  .shiftY = 0,
                  .gamma = 1.0,
                  .flicker = 1.0,
                  .weave = 1.0,
                  .grain = 1.0,
                  .scratches = 1.0,
                  .dirt = 1.0,
                  .toneU = 124,
                  .toneV = 131,
                  .splices = { { "wheel-insert", 0 }, { "boat-at-sea", 41 } } };
    return plan;
}

EditionPlan editionB()
{
    EditionPlan plan = editionA();
    plan.letter = "b";
    auto& takes = plan.takes;

    // The keeper's lonely evening goes back to where the story first needs him: before the street.
    const auto scene = takes.begin() + static_cast<std::ptrdiff_t> (indexOf (takes, "watch-room"));
    const std::vector<Take> moved (scene, scene + 3);
    takes.erase (scene, scene + 3);
    takes.insert (takes.begin() + static_cast<std::ptrdiff_t> (indexOf (takes, "street-wide")), moved.begin(), moved.end());
    plan.changes.push_back (
        { "moved", { "watch-room", "keeper-sigh", "card-not-a-crumb" }, "from before jetty-rush to before street-wide", 0 });

    Shot& longer = takes[indexOf (takes, "card-seventy-today")].shot;
    longer.length += 40;
    longer.words = "“Old Grævling turns seventy today, and nobody has thought of him!” cried Fru Fløde.";
    plan.changes.push_back ({ "card-longer", { longer.name }, "newly worded", 40 });

    takes[indexOf (takes, "chase")].from = 12;
    plan.changes.push_back ({ "trimmed-head", { "chase" }, "its first 12 film frames are gone", 12 });

    takes.insert (takes.begin() + static_cast<std::ptrdiff_t> (indexOf (takes, "constable-halt")),
                  Take{ action ("cat-on-sill", 46, catOnSill), 0 });
    plan.changes.push_back ({ "new", { "cat-on-sill" }, "after runaway-track", 46 });

    takes.erase (takes.begin() + static_cast<std::ptrdiff_t> (indexOf (takes, "dog-run")));
    plan.changes.push_back ({ "gone", { "dog-run" }, "was after market-barrel", 18 });

    plan.wear = { .seed = 4211,
                  .zoom = 0.98,
                  .shiftX = 3.0,
                  .shiftY = -2.0,
                  .gamma = 1.14,
                  .flicker = 1.35,
                  .weave = 1.1,
                  .grain = 1.25,
                  .scratches = 2.4,
                  .dirt = 1.7,
                  .toneU = 128,
                  .toneV = 128,
                  .splices = { { "jetty-rush", 0 }, { "party", 37 } } };
    return plan;
}

void photograph (Stage& stage, const Shot& shot, int frame)
{
    stage.beginFrame (frame);
    if (shot.kind == ShotKind::card)
        drawCard (stage, shot.look, shot.words);
    else if (shot.photograph != nullptr)
        shot.photograph (stage);
    constexpr double kOpen = 480;
    if (frame < shot.irisIn)
        stage.iris (shot.irisAt.x, shot.irisAt.y, kOpen * ease (frame, 0, shot.irisIn) * ease (frame, 0, shot.irisIn));
    const int left = shot.length - 1 - frame;
    if (left < shot.irisOut)
        stage.iris (shot.irisAt.x, shot.irisAt.y, kOpen * ease (left - 2, 0, shot.irisOut) - 14);
    if (left < shot.fadeOut)
        stage.darken (1 - static_cast<double> (left) / shot.fadeOut);
}

int firstFileFrame (int filmFrame)
{
    return (filmFrame * 25 + 19) / 20;
}

int filmFrameAt (int fileFrame)
{
    return fileFrame * 20 / 25;
}

} // namespace shutterbeat::demo
