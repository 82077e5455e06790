#include "desk/LineUpRecut.h"

#include "lineup/DiagnosisWords.h"
#include "spotting/SoundEdit.h"
#include "time/Clock.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace shutterbeat::desk
{
namespace
{
using time::Rational;

std::string amount (double seconds, double perSecond)
{
    return lineup::numberText (std::abs (seconds), 2) + " s (" + lineup::numberText (std::abs (seconds) * perSecond, 0)
           + " frames)";
}

/// "taken out" or "put in", with how much and where.
std::string editText (const StandEdit& edit, double perSecond)
{
    std::string text = "at "
                       + time::clockText (Rational (static_cast<std::int64_t> (std::llround (edit.at * 100))) / Rational (100))
                       + " of the sound";
    if (! edit.bar.empty())
        text += ", " + edit.bar;
    text += ": " + amount (edit.seconds, perSecond) + (edit.seconds < 0 ? " out" : " in");
    if (edit.beats != 0)
        text += ", " + lineup::numberText (std::abs (edit.beats), 2) + " beats";
    return text;
}

/// Delivered seconds that a second of film time takes.
Rational stretchOf (const film::Delivery& delivery)
{
    return delivery.countingRate() / delivery.rate.perSecond;
}

void judge (SoundStand& row, const spotting::CarriedCue& cue, const spotting::Book& book, const Rational& stretch)
{
    const double perSecond = time::toDouble (book.delivery.rate.perSecond);
    if (! cue.in.after || ! cue.out.after)
    {
        row.stand = Stand::unknown;
        row.why = std::string (row.cue.empty() ? "the picture under it" : "its cue") + " has lost its "
                  + std::string (! cue.in.after ? "in" : "out") + ": " + (! cue.in.after ? cue.in.why : cue.out.why)
                  + "; give the cue a new place first";
        return;
    }
    double moved = 0, whole = 1;
    if (cue.in.before && cue.out.before)
        whole = std::max (0.1, time::toDouble (cue.out.before->clock - cue.in.before->clock));
    for (const auto& change : cue.inside)
    {
        const double seconds = time::toDouble (change.seconds);
        // Exchanged pictures of the same length leave the music where it was.
        if (std::abs (seconds) * perSecond < 0.75)
            continue;
        StandEdit edit;
        edit.at = time::toDouble (change.cueSeconds - (row.sound.place.cue.empty() ? Rational (0) : row.sound.place.seconds));
        if (row.sound.place.cue.empty() && cue.in.before)
            edit.at += time::toDouble (cue.in.before->clock - row.sound.place.seconds);
        edit.seconds = seconds;
        edit.frames = seconds * perSecond;
        edit.bar = change.bar;
        if (cue.cue.tempo)
        {
            const auto& map = *cue.cue.tempo;
            const auto here = map.beatOf (change.cueSeconds);
            edit.beats = seconds * time::toDouble (map.tempoAt (here)) / 60;
        }
        moved += std::abs (seconds);
        row.edits.push_back (edit);
    }
    if (row.edits.empty())
    {
        row.stand = stretch == Rational (1) ? Stand::stands : Stand::retime;
        const bool exchanged = ! cue.inside.empty();
        const std::string where = row.cue.empty() ? "in the picture under it" : "inside its cue";
        row.why = exchanged ? "pictures " + where + " have changed, but not where the music meets the others"
                            : "nothing has changed " + where;
        if (cue.in.frames != 0)
            row.why += std::string (row.cue.empty() ? "; move it: that picture" : "; the cue") + " begins "
                       + std::to_string (std::abs (cue.in.frames)) + " film frames " + (cue.in.frames > 0 ? "later" : "earlier")
                       + " than it did";
    }
    else
    {
        row.stand = row.edits.size() <= 3 && moved <= 0.25 * whole ? Stand::edit : Stand::again;
        for (const auto& edit : row.edits)
            row.why += (row.why.empty() ? "" : "; ") + editText (edit, perSecond);
        if (row.stand == Stand::again)
            row.why = std::to_string (row.edits.size()) + (row.edits.size() == 1 ? " change" : " changes") + " of "
                      + amount (moved, perSecond) + " together, too much to be cut into what was played: " + row.why;
    }
    if (stretch != Rational (1))
    {
        row.factor = time::toDouble (stretch);
        row.why += "; the film is delivered at another speed now: the sound has to be " + time::fractionText (stretch)
                   + " times as long (" + lineup::numberText (row.factor, 5) + ")";
    }
}
/// The stretch of picture under a sound that is no cue's, as if it were a cue's: then all that is known of cues is known of it.
std::string underId (const spotting::Sound& sound)
{
    return "under " + sound.id;
}

spotting::Book soundsAsCues (const spotting::Book& book)
{
    auto with = book;
    auto cues = book.cues.list();
    for (const auto& sound : book.sounds)
    {
        if (! sound.madeFor || ! sound.cue.empty() || ! sound.place.cue.empty())
            continue;
        spotting::Asked asked;
        asked.edition = sound.madeFor->edition;
        asked.rate = sound.madeFor->delivery.rate;
        asked.fill = sound.madeFor->delivery.from;
        const auto timings = spotting::timingsOf (book, asked);
        if (! timings || sound.place.reel >= timings->reelCount())
            continue;
        const auto frames = timings->deliveredLength (sound.place.reel);
        const auto frameAt = [&] (const Rational& clock)
        { return std::clamp<std::int64_t> (time::floorOf (clock * timings->delivery().rate.perSecond), 0, frames); };
        const auto first = frameAt (sound.place.seconds), end = frameAt (sound.place.seconds + spotting::lengthOf (sound));
        const auto in = timings->atDelivered (first, sound.place.reel), out = timings->atDelivered (end, sound.place.reel);
        if (end <= first || ! in || ! out)
            continue;
        spotting::Cue span;
        span.id = underId (sound);
        span.in = timings->placeAt (*in);
        span.out = timings->placeAt (*out);
        cues.push_back (std::move (span));
    }
    with.cues = std::move (cues);
    return with;
}
} // namespace

std::string standName (Stand stand)
{
    switch (stand)
    {
    case Stand::stands:
        return "stands";
    case Stand::retime:
        return "re-time";
    case Stand::edit:
        return "edit";
    case Stand::again:
        return "play again";
    case Stand::unknown:
        break;
    }
    return "not known";
}

Result<std::vector<SoundStand>> soundStands (const spotting::Book& book)
{
    std::vector<SoundStand> rows;
    std::map<std::string, spotting::Carried> carried;
    const auto withSpans = soundsAsCues (book);
    for (const auto& sound : book.sounds)
    {
        SoundStand row;
        row.sound = sound;
        const auto* cue = spotting::cueOf (book, sound.cue.empty() ? sound.place.cue : sound.cue);
        if (cue != nullptr)
            row.cue = cue->number;
        if (! sound.madeFor)
            row.why = "it is not known which edition it was made for; add it again to have that noted";
        else
        {
            const auto& made = *sound.madeFor;
            const auto stretch = stretchOf (book.delivery) / stretchOf (made.delivery);
            if (made.edition == book.edition)
            {
                row.stand = stretch == Rational (1) ? Stand::stands : Stand::retime;
                row.factor = time::toDouble (stretch);
                row.why = stretch == Rational (1)
                              ? "it was made for this edition"
                              : "it was made for another delivery of this edition: it has to be " + time::fractionText (stretch)
                                    + " times as long (" + lineup::numberText (row.factor, 5) + ")";
            }
            else
            {
                if (carried.count (made.edition) == 0)
                {
                    auto now = spotting::carry (withSpans, made.edition, book.edition);
                    if (! now)
                        return now.error();
                    carried.emplace (made.edition, std::move (*now));
                }
                const auto& cues = carried.at (made.edition).cues;
                const auto id = cue != nullptr ? cue->id : underId (sound);
                const auto found =
                    std::find_if (cues.begin(), cues.end(), [&] (const spotting::CarriedCue& c) { return c.cue.id == id; });
                if (found != cues.end())
                    judge (row, *found, book, stretch);
                else
                    row.why = cue != nullptr ? "its cue is not in both editions"
                                             : "it does not lie under the picture of edition " + made.edition;
            }
        }
        rows.push_back (std::move (row));
    }
    return rows;
}
} // namespace shutterbeat::desk
