#include "desk/FilmSound.h"

#include "desk/CueClick.h"
#include "desk/FilmPath.h"
#include "desk/TimecodeChannels.h"
#include "media/SoundReader.h"
#include "spotting/SoundEdit.h"

#include <algorithm>
#include <map>

namespace shutterbeat::desk
{
namespace
{
/// A file without the channels that carry timecode: nobody wants to hear those.
class FileSource final : public mix::SampleSource
{
public:
    FileSource (media::SoundReader opened, const std::vector<int>& without)
        : reader (std::move (opened))
    {
        for (int c = 0; c < reader.info().channels; ++c)
            if (std::find (without.begin(), without.end(), c) == without.end())
                heard.push_back (static_cast<std::size_t> (c));
    }
    [[nodiscard]] int rate() const override { return reader.info().rate; }
    [[nodiscard]] int channels() const override { return static_cast<int> (heard.size()); }
    [[nodiscard]] std::int64_t samples() const override { return reader.info().samples; }
    bool read (std::int64_t first, std::span<float> out) override
    {
        const auto wide = static_cast<std::size_t> (reader.info().channels);
        if (heard.size() == wide)
            return reader.read (first, out).ok();
        const auto frames = out.size() / heard.size();
        whole.resize (frames * wide);
        if (! reader.read (first, whole))
            return false;
        for (std::size_t i = 0; i < frames; ++i)
            for (std::size_t c = 0; c < heard.size(); ++c)
                out[i * heard.size() + c] = whole[i * wide + heard[c]];
        return true;
    }

private:
    media::SoundReader reader;
    std::vector<std::size_t> heard; ///< channels, in order
    std::vector<float> whole;       ///< kept for its room
};

void addPops (mix::Plan& plan, const film::Timings& timings, std::size_t reel, const time::Rational& start)
{
    // Two seconds of picture at the rate the frames are counted at: 48 frames at 24, however they are played (WORKED G).
    const auto& delivery = timings.delivery();
    const auto frames = time::roundOf (time::Rational (2) * delivery.countingRate());
    const auto one = time::Rational (1) / delivery.rate.perSecond;
    plan.tones.push_back ({ start - time::Rational (frames) * one, one });
    plan.tones.push_back ({ start + timings.clockOf (timings.deliveredLength (reel) + frames - 1), one });
}
} // namespace

Result<std::shared_ptr<mix::SampleSource>> openSource (const std::string& path)
{
    auto reader = media::SoundReader::open (path);
    if (! reader)
        return reader.error();
    const auto timecode = timecodeChannels (*reader);
    if (! timecode)
        return timecode.error();
    return std::shared_ptr<mix::SampleSource> (std::make_shared<FileSource> (std::move (*reader), *timecode));
}

Result<FilmSound> FilmSound::of (const OpenBook& open, const spotting::BookTimes& times, const FilmSoundWish& wish)
{
    const auto& timings = times.timings;
    if (wish.reel && *wish.reel >= timings.reelCount())
        return usageError ("reel " + std::to_string (*wish.reel + 1),
                           "the edition has " + std::to_string (timings.reelCount()) + " of them");
    FilmSound made;
    time::Rational start;
    for (std::size_t r = 0; r < timings.reelCount(); ++r)
    {
        made.reelStarts.push_back (wish.reel ? time::Rational (0) : start);
        start += timings.clockOf (timings.deliveredLength (r));
    }
    std::map<std::string, std::shared_ptr<mix::SampleSource>> sources;
    for (const auto& sound : open.book.sounds)
    {
        if (wish.soundIds && wish.soundIds->count (sound.id) == 0)
            continue;
        LaidSound row{ sound, pathFromBook (open.path, sound.path), {}, "" };
        const auto at = spotting::startOf (open.book, timings, sound);
        if (! at)
            row.lost = at.error().message;
        else if (wish.reel && at->reel != *wish.reel)
            continue;
        else
            row.start = made.reelStarts[at->reel] + at->clock;
        auto& source = sources[row.path];
        if (row.lost.empty() && ! source)
        {
            auto opened = openSource (row.path);
            if (opened)
                source = *opened;
            else
                row.lost = opened.error().message;
        }
        if (row.lost.empty())
            made.thePlan.sounds.push_back ({ source, row.start, sound.gain, sound.muted, sound.name });
        else
            made.theNotes.push_back ("sound " + sound.name + " is left out: " + row.path + " " + row.lost);
        made.laid.push_back (std::move (row));
    }
    made.thePlan.clicks = wish.clicks;
    if (wish.cueClicks)
        for (const auto& click : clicksOfFilm (times, *wish.cueClicks, made.reelStarts, wish.reel))
            made.thePlan.clicks.push_back (click);
    made.thePlan.clickLevel = wish.clickLevel;
    made.thePlan.offset = wish.offset;
    for (std::size_t r = 0; r < timings.reelCount() && wish.pops; ++r)
        if (! wish.reel || *wish.reel == r)
            addPops (made.thePlan, timings, r, made.reelStarts[r]);
    return made;
}

time::Rational FilmSound::reelStart (std::size_t reel) const
{
    return reel < reelStarts.size() ? reelStarts[reel] : time::Rational (0);
}

FilmSound::Render FilmSound::renderAt (const time::Rational& samplesPerSecond, int soundRate) const
{
    auto mixer = std::make_shared<mix::Mixer> (thePlan, samplesPerSecond, soundRate);
    return [mixer] (std::int64_t first, std::span<float> stereo) { return mixer->render (first, stereo); };
}

FilmSound::Render FilmSound::render (int samplesPerSecond) const
{
    return renderAt (time::Rational (samplesPerSecond), samplesPerSecond);
}
} // namespace shutterbeat::desk
