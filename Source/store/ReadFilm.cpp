#include "store/FilmParts.h"

#include "store/Members.h"

namespace shutterbeat::store
{
namespace
{
film::ReelFile readReel (Members& m)
{
    film::ReelFile reel;
    reel.path = m.text ("path", true);
    reel.identity = m.text ("identity");
    reel.rate = m.fraction ("rate", true).value_or (time::Rational (25));
    if (reel.rate.sign() <= 0)
        m.fail ("rate", "has to be above zero");
    reel.startLabel = m.text ("start_timecode");
    reel.width = m.small ("width");
    reel.height = m.small ("height");
    reel.cadenceSaid = m.text ("cadence_said");
    reel.workingCopy = m.text ("working_copy");
    reel.workingIdentity = m.text ("working_copy_identity");
    std::vector<film::CadenceRun> runs;
    m.array ("cadence", true,
             [&] (Members& inner)
             {
                 film::CadenceRun run;
                 run.filmFrames = inner.whole ("film_frames", true);
                 if (const auto* cycle = inner.find ("cycle", true))
                 {
                     bool fits = cycle->is_array();
                     if (fits)
                         for (const auto& entry : *cycle)
                         {
                             fits = fits && entry.is_number_integer() && entry.get<std::int64_t>() > 0
                                    && entry.get<std::int64_t>() < (1 << 30);
                             run.cycle.push_back (fits ? entry.get<int>() : 1);
                         }
                     if (! fits)
                         inner.fail ("cycle", "has to be a list of whole numbers above zero");
                 }
                 runs.push_back (std::move (run));
             });
    if (auto cadence = film::Cadence::fromRuns (runs))
        reel.cadence = *cadence;
    else
        m.fail ("cadence", cadence.error().message);
    reel.unknown = m.unknown();
    return reel;
}

film::Shot readShot (Members& m)
{
    film::Shot shot;
    shot.id = m.text ("id", true);
    shot.name = m.text ("name");
    if (const auto kind = film::shotKindNamed (m.text ("kind", true)))
        shot.kind = *kind;
    else
        m.fail ("kind", "has to be shot, card or black");
    shot.made = m.fraction ("made_seconds");
    shot.print = m.text ("print", ! shot.made);
    shot.first = m.whole ("first", ! shot.made);
    shot.end = m.whole ("end", ! shot.made);
    shot.speed = m.fraction ("running_speed");
    if (shot.speed && shot.speed->sign() <= 0)
        m.fail ("running_speed", "has to be above zero");
    shot.wording = m.text ("wording");
    shot.remade = m.flag ("remade");
    shot.reason = m.text ("reason");
    shot.strength = m.small ("strength_permille", 1000) / 1000.0;
    shot.locked = m.flag ("locked");
    shot.unknown = m.unknown();
    return shot;
}
} // namespace

film::Print readPrint (Members& m)
{
    film::Print print;
    print.id = m.text ("id", true);
    print.name = m.text ("name");
    print.gauge = m.named<time::Gauge> ("gauge", time::parseGauge, {});
    m.array ("reels", true, [&] (Members& inner) { print.reels.push_back (readReel (inner)); });
    m.array ("scanned", false,
             [&] (Members& inner)
             {
                 film::ScannedShot shot;
                 shot.first = inner.whole ("first", true);
                 shot.end = inner.whole ("end", true);
                 if (const auto kind = film::shotKindNamed (inner.text ("kind", true)))
                     shot.kind = *kind;
                 else
                     inner.fail ("kind", "has to be shot, card or black");
                 shot.strength = inner.small ("strength_permille") / 1000.0;
                 print.scanned.push_back (shot);
             });
    print.unknown = m.unknown();
    return print;
}

film::Edition readEdition (Members& m)
{
    film::Edition edition;
    edition.letter = m.text ("letter", true);
    edition.parent = m.text ("parent");
    edition.speed = m.fraction ("running_speed", true).value_or (time::Rational (0));
    edition.reels.clear();
    m.array ("reels", true,
             [&] (Members& inner)
             {
                 film::EditionReel reel;
                 reel.firstShot = static_cast<std::size_t> (inner.small ("first_shot"));
                 reel.startLabel = inner.text ("start_timecode", true);
                 edition.reels.push_back (std::move (reel));
             });
    m.array ("shots", true, [&] (Members& inner) { edition.shots.push_back (readShot (inner)); });
    edition.unknown = m.unknown();
    return edition;
}
} // namespace shutterbeat::store
