#include "Truth.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdio>
#include <fstream>

namespace shutterbeat::demo
{

namespace
{

using Json = nlohmann::ordered_json;

const char* kindName (ShotKind kind)
{
    switch (kind)
    {
    case ShotKind::card:
        return "card";
    case ShotKind::black:
        return "black";
    case ShotKind::action:
        break;
    }
    return "shot";
}

/// How a shot is come into: by its own iris, by the iris or fade of what went before, else a cut.
const char* transitionInto (const Take* before, const Take& take)
{
    if (take.shot.irisIn > 0 || (before != nullptr && before->shot.irisOut > 0))
        return "iris";
    if (before != nullptr && before->shot.fadeOut > 0)
        return "fade";
    return "cut";
}

Json span (const char* kind, const std::string& shot, int first, int end)
{
    return { { "kind", kind },
             { "shot", shot },
             { "first_film", first },
             { "end_film", end },
             { "first_file", firstFileFrame (first) },
             { "end_file", firstFileFrame (end) } };
}

/// Where in edition A a take comes from: the shot, how many of its film frames are missing at the head, and its place there.
Json originOf (const EditionPlan& a, const Take& take)
{
    int first = 0;
    for (const Take& old : a.takes)
    {
        if (old.shot.name == take.shot.name)
            return { { "shot", old.shot.name },
                     { "offset_film", take.from - old.from },
                     { "first_film_in_a", first + take.from - old.from } };
        first += old.length();
    }
    return "new";
}

Json editionJson (const EditionPlan& plan, const EditionPlan& a)
{
    const int film = plan.filmFrames();
    Json shots = Json::array(), cards = Json::array(), gags = Json::array(), spans = Json::array(), flashes = Json::array();
    int first = 0;
    const Take* before = nullptr;
    for (const Take& take : plan.takes)
    {
        const int end = first + take.length();
        const Shot& shot = take.shot;
        Json entry = { { "name", shot.name },
                       { "kind", kindName (shot.kind) },
                       { "first_film", first },
                       { "end_film", end },
                       { "first_file", firstFileFrame (first) },
                       { "end_file", firstFileFrame (end) },
                       { "transition", transitionInto (before, take) } };
        if (plan.letter != "a")
            entry["origin"] = originOf (a, take);
        shots.push_back (entry);
        if (shot.kind == ShotKind::card)
            cards.push_back ({ { "name", shot.name }, { "first_film", first }, { "end_film", end }, { "words", shot.words } });
        if (shot.gag.frame >= 0)
        {
            const int at = first + shot.gag.frame - take.from;
            gags.push_back ({ { "shot", shot.name }, { "film", at }, { "file", firstFileFrame (at) }, { "what", shot.gag.what } });
        }
        if (shot.irisIn > 0)
            spans.push_back (span ("iris-in", shot.name, first, first + shot.irisIn));
        if (shot.irisOut > 0)
            spans.push_back (span ("iris-out", shot.name, end - shot.irisOut, end));
        if (shot.fadeOut > 0)
            spans.push_back (span ("fade-out", shot.name, end - shot.fadeOut, end));
        before = &take;
        first = end;
    }
    for (int f = 0; f < film; ++f)
        if (flashAt (plan, f) == 1)
            flashes.push_back ({ { "film", f }, { "file", firstFileFrame (f) } });
    Json changes = Json::array();
    for (const Change& change : plan.changes)
    {
        Json entry = { { "kind", change.kind }, { "shots", change.shots }, { "note", change.note } };
        if (change.filmFrames > 0)
            entry["film_frames"] = change.filmFrames;
        changes.push_back (entry);
    }
    Json edition = { { "file", "edition-" + plan.letter + ".mp4" },
                     { "file_frames", firstFileFrame (film) },
                     { "film_frames", film },
                     { "shots", shots },
                     { "cards", cards },
                     { "gags", gags },
                     { "spans", spans },
                     { "splice_flashes", flashes } };
    if (plan.letter != "a")
        edition["changes"] = changes;
    return edition;
}

} // namespace

int flashAt (const EditionPlan& plan, int filmFrame)
{
    int first = 0;
    for (const Take& take : plan.takes)
    {
        for (const Splice& splice : plan.wear.splices)
            if (splice.shot == take.shot.name)
            {
                const int since = filmFrame - first - splice.frame;
                if (since == 0 || since == 1)
                    return since + 1;
            }
        first += take.length();
    }
    return 0;
}

std::optional<std::string> writeTruth (const std::string& path, const EditionPlan& a, const EditionPlan& b)
{
    const Json truth = { { "film_frames_per_second", kFilmFramesPerSecond },
                         { "file_rate", "25/1" },
                         { "padding", "file frame j shows film frame floor(j*20/25)" },
                         { "start_timecode", "01:00:00:00" },
                         { "editions", { { "a", editionJson (a, a) }, { "b", editionJson (b, a) } } } };
    const std::string working = path + ".part";
    {
        std::ofstream out (working, std::ios::binary | std::ios::trunc);
        out << truth.dump (2) << '\n';
        out.flush();
        if (! out)
            return working + ": cannot write";
    }
    if (std::rename (working.c_str(), path.c_str()) != 0)
        return path + ": cannot put the finished list in its place";
    return std::nullopt;
}

} // namespace shutterbeat::demo
