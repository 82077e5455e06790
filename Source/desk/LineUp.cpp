#include "desk/LineUp.h"

#include "desk/LineUpChecks.h"
#include "desk/Sounds.h"
#include "lineup/Accent.h"
#include "lineup/DiagnosisWords.h"
#include "music/Beats.h"
#include "spotting/SoundEdit.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::desk
{
namespace
{
using spotting::CueTimes;
using time::Rational;

double after (const Rational& clock, const Rational& start)
{
    return time::toDouble (clock - start);
}

/// The cues a sound is judged by: its own; without one, all that lie under it.
std::vector<const CueTimes*> cuesOf (const spotting::BookTimes& times, const spotting::Sound& sound, const SoundLineUp& lined)
{
    std::vector<const CueTimes*> cues;
    const auto own = sound.cue.empty() ? sound.place.cue : sound.cue;
    for (const auto& row : times.cues)
    {
        if (! row.in || row.in->reel != lined.reel)
            continue;
        const bool under = row.out && after (row.in->clock, lined.start) < lined.heard.length && row.out->clock > lined.start;
        if (own.empty() ? under : row.cue.id == own)
            cues.push_back (&row);
    }
    return cues;
}

/// The written beats of a cue from the sound's sample 0; none inside holds and free passages, where nothing is counted.
void addBeats (std::vector<double>& beats, const CueTimes& cue, const Rational& origin)
{
    if (! cue.cue.tempo || ! cue.barOne || ! cue.out)
        return;
    music::ClickLook look;
    look.freeClicks = 0;
    const auto clicks = music::clicksOf (*cue.cue.tempo, cue.out->clock - *cue.barOne, look);
    if (! clicks)
        return;
    for (const auto& click : *clicks)
        beats.push_back (after (*cue.barOne + click.seconds, origin));
}

std::vector<double> beatsOf (const std::vector<const CueTimes*>& cues, const Rational& origin)
{
    std::vector<double> beats;
    for (const auto* cue : cues)
        addBeats (beats, *cue, origin);
    std::sort (beats.begin(), beats.end());
    beats.erase (std::unique (beats.begin(), beats.end(), [] (double a, double b) { return b - a < 0.001; }), beats.end());
    return beats;
}

HitVerdict verdictOf (const spotting::HitPoint& hit, double lateMs)
{
    return lateMs < -hit.earlyMs ? HitVerdict::early : lateMs > hit.lateMs ? HitVerdict::late : HitVerdict::within;
}

void addHit (SoundLineUp& lined, const spotting::BookTimes& times, std::size_t row, const lineup::TakeEvidence& evidence)
{
    const auto& hit = times.hits[row];
    HitLineUp found;
    found.row = row;
    found.wanted = after (hit.at->clock + hit.hit.lead, lined.start);
    lineup::AccentLook look;
    double expected = found.wanted;
    // Where the whole sound is known to be late or slow, the accent is looked for where that puts it.
    if (lined.diagnosis.trusted())
    {
        expected = lined.diagnosis.line->at (evidence.beats.front(), found.wanted);
        look.reach = 0.120;
    }
    found.expected = expected;
    if (expected < lined.heard.from || expected > lined.heard.to)
        found.verdict = HitVerdict::outside;
    else if (const auto accent = lineup::accentNear (lined.heard.sharp, expected, look))
    {
        found.heard = accent->seconds;
        found.alone = accent->alone;
        found.lateMs = 1000 * (accent->seconds - found.wanted);
        found.frames = found.lateMs / 1000 * lined.frameRate;
        found.verdict = verdictOf (hit.hit, found.lateMs);
        found.broken = lineup::brokenLimits (found.lateMs);
    }
    lined.hits.push_back (std::move (found));
}

void addHits (SoundLineUp& lined, const spotting::BookTimes& times, const std::vector<const CueTimes*>& cues,
              const lineup::TakeEvidence& evidence)
{
    const bool ofCue = ! lined.cue.empty();
    for (std::size_t row = 0; row < times.hits.size(); ++row)
    {
        const auto& hit = times.hits[row];
        const bool named = std::any_of (cues.begin(), cues.end(), [&] (const CueTimes* cue) { return cue->cue.id == hit.hit.cue; });
        if (ofCue && ! named)
            continue;
        const std::string name = hit.hit.label.empty() ? hit.hit.id : hit.hit.label;
        if (! hit.at)
        {
            if (named)
                lined.notes.push_back (name + " is lost: " + hit.lost);
            continue;
        }
        const double wanted = after (hit.at->clock + hit.hit.lead, lined.start);
        if (hit.at->reel != lined.reel || (! named && (wanted < 0 || wanted > lined.heard.length)))
            continue;
        addHit (lined, times, row, evidence);
    }
    std::stable_sort (lined.hits.begin(), lined.hits.end(),
                      [] (const HitLineUp& a, const HitLineUp& b) { return a.wanted < b.wanted; });
}

/// Where nothing is told from beats, several hits that agree still tell something.
std::string hitsTogether (const std::vector<HitLineUp>& hits)
{
    std::vector<double> late;
    for (const auto& hit : hits)
        if (hit.heard && hit.alone)
            late.push_back (hit.lateMs);
    if (late.size() < 4)
        return "";
    std::sort (late.begin(), late.end());
    const double middle = late[late.size() / 2];
    if (late[late.size() * 3 / 4] - late[late.size() / 4] > 30)
        return "";
    return "The " + std::to_string (late.size()) + " hits with a clear accent agree: " + lineup::lateText (middle / 1000)
           + " (half of them within " + lineup::numberText (late[late.size() * 3 / 4] - late[late.size() / 4], 0) + " ms).";
}

/// Another cue whose beats the sound follows, though it does not follow its own.
std::string otherCue (const spotting::BookTimes& times, const SoundLineUp& lined, const CueTimes& own,
                      lineup::TakeEvidence evidence, const lineup::LineSearch& search)
{
    std::string best;
    double most = 0.55;
    for (const auto& row : times.cues)
    {
        if (row.cue.id == own.cue.id || ! row.in || ! row.cue.tempo)
            continue;
        // As if the sound lay at that cue's in as it lies at its own.
        evidence.beats = beatsOf ({ &row }, row.in->clock + (lined.start - own.in->clock));
        if (const double score = lineup::followScore (evidence, search); score > most)
        {
            most = score;
            best = row.cue.number;
        }
    }
    return best;
}

void judgeWhole (SoundLineUp& lined, const spotting::BookTimes& times, const std::vector<const CueTimes*>& cues,
                 const lineup::TakeEvidence& evidence, const lineup::LineSearch& search)
{
    using lineup::TakeKind;
    lined.diagnosis = lineup::diagnose (evidence, search);
    const auto kind = lined.diagnosis.kind;
    std::vector<SoundFinding> findings;
    const bool fault = kind != TakeKind::thin && kind != TakeKind::inTime;
    if (kind == TakeKind::thin && cues.size() == 1)
        if (lined.wrongCue = otherCue (times, lined, *cues.front(), evidence, search); ! lined.wrongCue.empty())
            findings.push_back ({ "Wrong sound for this cue: it does not follow the beats of cue " + cues.front()->cue.number
                                      + ", but it does follow those of cue " + lined.wrongCue + ".",
                                  true });
    for (const auto& sentence : lined.diagnosis.sentences)
        findings.push_back ({ sentence, fault });
    for (auto& finding : popFindings (times.timings, lined.reel, lined.start, lined.heard))
        findings.push_back (std::move (finding));
    if (cues.size() == 1)
        for (auto& finding : endFindings (*cues.front(), lined.start, lined.heard))
            findings.push_back (std::move (finding));
    std::stable_partition (findings.begin(), findings.end(), [] (const SoundFinding& f) { return f.fault; });
    for (auto& finding : findings)
    {
        lined.faults += finding.fault ? 1 : 0;
        lined.sentences.push_back (std::move (finding.text));
    }
}
} // namespace

std::string hitVerdictName (HitVerdict verdict)
{
    switch (verdict)
    {
    case HitVerdict::within:
        return "within";
    case HitVerdict::early:
        return "early";
    case HitVerdict::late:
        return "late";
    case HitVerdict::noAccent:
        return "no clear accent";
    case HitVerdict::outside:
        break;
    }
    return "outside the sound";
}

LineUpCounts countsOf (const SoundLineUp& lined)
{
    LineUpCounts counts;
    for (const auto& hit : lined.hits)
        ++(hit.verdict == HitVerdict::within     ? counts.within
           : hit.verdict == HitVerdict::noAccent ? counts.noAccent
           : hit.verdict == HitVerdict::outside  ? counts.outside
                                                 : counts.beyond);
    return counts;
}

Result<std::vector<spotting::Sound>> soundsMeant (const spotting::Book& book, const std::string& word)
{
    const auto sound = spotting::soundNamed (book, word);
    if (sound)
        return std::vector{ *sound };
    const auto cue = spotting::cueNamed (book, word);
    if (! cue)
        return usageError (word, "is neither a sound nor a cue of the book; see: shutterbeat sounds BOOK list");
    std::vector<spotting::Sound> sounds;
    for (const auto& one : book.sounds)
        if (one.cue == cue->id || (one.cue.empty() && one.place.cue == cue->id))
            sounds.push_back (one);
    if (sounds.empty())
        return usageError ("cue " + cue->number,
                           "has no sound yet; add one with: shutterbeat sounds BOOK add FILE --cue " + cue->number);
    return sounds;
}

Result<SoundLineUp> lineUp (const OpenBook& open, const spotting::BookTimes& times, const spotting::Sound& sound,
                            const LineUpWish& wish, const Progress& progress)
{
    SoundLineUp lined;
    lined.sound = sound;
    const auto start = spotting::startOf (open.book, times.timings, sound);
    if (! start)
        return start.error();
    lined.reel = start->reel;
    lined.start = start->clock;
    lined.frameRate = time::toDouble (times.timings.delivery().rate.perSecond);
    lined.heard.length = time::toDouble (spotting::lengthOf (sound));
    auto cues = cuesOf (times, sound, lined);
    double near = 0, end = lined.heard.length;
    if (! cues.empty() && cues.front()->out)
    {
        near = after (cues.front()->in->clock, lined.start) - 15;
        end = after (cues.back()->out ? cues.back()->out->clock : cues.front()->out->clock, lined.start) + 15;
    }
    const auto listening = [&progress] (double fraction, const std::string& what)
    { return ! progress || progress (0.8 * fraction, what); };
    auto heard = hearSound (soundPath (open, sound), near, end, listening);
    if (! heard)
        return heard.error();
    lined.heard = std::move (*heard);
    for (auto* onsets : { &lined.heard.sharp, &lined.heard.slow })
        for (auto& onset : *onsets)
            onset.seconds -= wish.biasMs / 1000;
    if (lined.heard.damaged > 0)
        lined.notes.push_back (std::to_string (lined.heard.damaged) + " samples of " + sound.name
                               + " can't be read and count as silence");
    for (const int channel : lined.heard.timecode)
        lined.notes.push_back ("channel " + std::to_string (channel) + " of " + sound.name
                               + " carries linear timecode and is not listened to");
    if (lined.heard.to < lined.heard.length || lined.heard.from > 0)
        lined.notes.push_back ("only the part around its cue was listened to: the sound is longer than half an hour");
    if (cues.size() == 1)
        lined.cue = cues.front()->cue.number;
    lineup::TakeEvidence evidence{ lined.heard.sharp, lined.heard.slow, beatsOf (cues, lined.start), lined.heard.to,
                                   lined.heard.tuning };
    // What was not listened to can't have missed a beat.
    if (lined.heard.from > 0 || lined.heard.to < lined.heard.length)
        std::erase_if (evidence.beats, [&] (double beat) { return beat < lined.heard.from || beat > lined.heard.to; });
    bool stopped = false;
    lineup::LineSearch search;
    search.goOn = [&] (double fraction)
    {
        stopped = progress && ! progress (0.8 + 0.2 * fraction, "comparing " + sound.name);
        return ! stopped;
    };
    judgeWhole (lined, times, cues, evidence, search);
    if (stopped)
        return Error{ ErrorCode::cancelled, sound.name, "stopped" };
    addHits (lined, times, cues, evidence);
    if (! lined.diagnosis.trusted())
        if (const auto together = hitsTogether (lined.hits); ! together.empty())
            lined.sentences.push_back (together);
    lined.found = lined.faults > 0 || countsOf (lined).beyond > 0;
    return lined;
}
} // namespace shutterbeat::desk
