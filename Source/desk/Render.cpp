#include "desk/Render.h"

#include "desk/CueClick.h"
#include "desk/FilmPath.h"
#include "desk/FilmSound.h"
#include "desk/RenderPlan.h"
#include "desk/RenderReadout.h"
#include "media/CanvasFilm.h"
#include "media/MovieWriter.h"
#include "overlay/Leader.h"
#include "overlay/MarkPaint.h"
#include "time/Clock.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <memory>
#include <set>

namespace shutterbeat::desk
{
namespace
{
constexpr int soundRate = 48000;
/// 1 kHz at a tenth of full scale: clear on any system, loud on none.
constexpr double popPitch = 1000, popLevel = 0.1;
/// Films open at one time: enough for prints that alternate, and a bound on memory.
constexpr std::size_t mostOpen = 4;

int even (double size)
{
    return 2 * static_cast<int> (std::lround (size / 2));
}

/// The largest rectangle of a shape in the middle of a movie, on even pixels.
media::Area fitted (int pictureWidth, int pictureHeight, int width, int height)
{
    if (pictureWidth < 1 || pictureHeight < 1)
        return { 0, 0, width, height };
    const double scale = std::min (static_cast<double> (width) / pictureWidth, static_cast<double> (height) / pictureHeight);
    int across = std::clamp (even (pictureWidth * scale), 2, width), down = std::clamp (even (pictureHeight * scale), 2, height);
    // A line or two of bar is a flaw of rounding, not a bar.
    across = width - across <= 2 ? width : across;
    down = height - down <= 2 ? height : down;
    return { (width - across) / 2 & ~1, (height - down) / 2 & ~1, across, down };
}

overlay::Box boxOf (const media::Area& area)
{
    return { area.x, area.y, area.width, area.height };
}

/// The book's films as a movie needs them.
class Films
{
public:
    Films (const OpenBook& book, bool workingCopies)
        : open (book)
        , copies (workingCopies)
    {
    }

    Result<media::CanvasFilm*> of (const film::Print& print, std::size_t reel, std::vector<std::string>& notes)
    {
        const auto& file = print.reels[reel];
        if (isToCome (file))
            return unreadable ("print " + print.name, "its pictures are not there yet: only a list has named them");
        const auto path = copies ? filmPathForPlaying (open, file) : filmPathForPictures (open, file);
        auto& kept = films[path];
        kept.used = ++clock;
        if (! kept.film)
        {
            auto opened = media::CanvasFilm::open (path);
            if (! opened)
                return opened.error();
            if ((*opened)->info().frames != file.cadence.fileFrames())
                return unreadable (path, "it has " + std::to_string ((*opened)->info().frames)
                                             + " frames, but the book was made from a file of "
                                             + std::to_string (file.cadence.fileFrames()) + "; relink the film");
            if (path != filmPath (open, file) && told.insert (path).second)
                notes.push_back ("pictures of print " + print.id + " come from the working copy " + path);
            kept.film = std::move (*opened);
        }
        auto* film = kept.film.get();
        while (films.size() > mostOpen)
            films.erase (std::min_element (films.begin(), films.end(),
                                           [] (const auto& a, const auto& b) { return a.second.used < b.second.used; }));
        return film;
    }

private:
    struct Kept
    {
        std::unique_ptr<media::CanvasFilm> film;
        std::int64_t used = 0;
    };
    const OpenBook& open;
    bool copies;
    std::map<std::string, Kept> films;
    std::set<std::string> told;
    std::int64_t clock = 0;
};

/// One movie in the making.
class Renderer
{
public:
    Renderer (const OpenBook& book, const spotting::BookTimes& allTimes, RenderPlan plan_, const RenderWish& wish_)
        : open (book)
        , times (allTimes)
        , plan (std::move (plan_))
        , wish (wish_)
        , films (book, wish_.workingCopies)
    {
    }

    Result<Rendered> run (const std::string& path, const Progress& progress);

private:
    Result<Done> chooseShape();
    Result<Done> paint (const RenderedFrame& frame);
    Result<Done> show (const RenderedFrame& frame, const overlay::MarkPlan& marks, RenderReadout& readout);
    Result<Done> hear (std::int64_t delivered);
    void addPop (std::int64_t first, std::span<float> sound) const;

    const OpenBook& open;
    const spotting::BookTimes& times;
    RenderPlan plan;
    const RenderWish& wish;
    Films films;
    int width = 0, height = 0;
    media::Area picture;
    std::optional<media::Canvas> bare, dressed; ///< without and with what is drawn over it
    std::optional<RenderedFrame> last;
    std::vector<media::Area> covered; ///< of `dressed`
    bool fresh = false;               ///< `dressed` no longer matches `bare` even outside `covered`
    std::optional<overlay::Overlay> overlay;
    std::optional<overlay::MarkPaint> markPaint;
    overlay::Letters letters;
    std::unique_ptr<media::MovieWriter> writer;
    std::vector<float> sound;
    std::int64_t damaged = 0;
    Rendered result;
};

/// The size of the movie and where the picture lies in it, from the first photographed picture.
Result<Done> Renderer::chooseShape()
{
    int across = 4, down = 3;
    for (const auto& shot : times.timings.edition().shots)
        if (const auto* print = shot.made ? nullptr : times.timings.print (shot.print))
        {
            const auto in = film::reelFrameOf (*print, shot.first);
            if (! in)
                return in.error();
            const auto film = films.of (*print, in->reel, result.notes);
            if (! film)
                return film.error();
            across = (*film)->info().width;
            down = (*film)->info().height;
            break;
        }
    if (wish.size)
    {
        std::tie (width, height) = *wish.size;
        if (width < 16 || height < 16 || width > 8192 || height > 8192 || width % 2 != 0 || height % 2 != 0)
            return usageError ("size " + std::to_string (width) + "x" + std::to_string (height),
                               "can't be had; both even, from 16 to 8192");
    }
    else
    {
        height = even (std::clamp (down, 720, 1080));
        width = wish.overlay ? even (height * 16.0 / 9) : even (static_cast<double> (height) * across / down);
    }
    picture = fitted (across, down, width, height);
    return Done{};
}

/// Makes `bare` show what the frame shows.
Result<Done> Renderer::paint (const RenderedFrame& frame)
{
    const auto lay = [&] (const overlay::Patch& patch)
    { bare->blend (patch.box.x, patch.box.y, patch.box.width, patch.box.height, patch.pixels->data()); };
    const auto ground = wish.overlay ? overlay::rgbOf (overlay::ground) : 0u;
    using Kind = RenderedFrame::Kind;
    switch (frame.kind)
    {
    case Kind::leader:
    {
        const auto label = plan.startLabel();
        const auto& timings = times.timings;
        overlay::LeaderFrame leader{ frame.second, frame.frameOfSecond, plan.framesInSecond(), open.book.title, "" };
        leader.details = "Edition " + timings.edition().letter + "   ·   " + time::rateName (timings.delivery().rate)
                         + " pictures a second"
                         + (label.empty() ? "" : "   ·   picture starts at " + timings.timecodeOf (0, wish.reel));
        bare->fill (picture, ground);
        for (const auto& patch : overlay::drawLeader (letters, boxOf (picture), leader))
            lay (patch);
        break;
    }
    case Kind::pop:
        bare->fill (picture, ground);
        lay (markPaint->disc());
        break;
    case Kind::black:
        bare->fill (picture, frame.delivered >= 0 && frame.delivered < plan.pictureFrames() ? 0u : ground);
        break;
    case Kind::card:
        bare->fill (picture, 0);
        lay (overlay::drawCard (letters, boxOf (picture), times.timings.edition().shots[frame.shot].wording));
        break;
    case Kind::film:
    {
        const auto film = films.of (*times.timings.print (frame.print), frame.reelFile, result.notes);
        if (! film)
            return film.error();
        // A reel of another shape lies within the same rectangle.
        const auto inside = fitted ((*film)->info().width, (*film)->info().height, picture.width, picture.height);
        const media::Area area{ picture.x + inside.x, picture.y + inside.y, inside.width, inside.height };
        if (area != picture)
            bare->fill (picture, 0);
        const auto whole = (*film)->paint (frame.fileFrame, *bare, area);
        if (! whole)
            return whole.error();
        damaged += *whole ? 0 : 1;
        break;
    }
    }
    return Done{};
}

Result<Done> Renderer::show (const RenderedFrame& frame, const overlay::MarkPlan& marks, RenderReadout& readout)
{
    if (! last || ! frame.looksLike (*last))
    {
        if (const auto painted = paint (frame); ! painted)
            return painted;
        fresh = true;
    }
    last = frame;
    std::vector<overlay::Patch> patches;
    if (overlay)
        patches = overlay->draw (readout.at (frame));
    for (auto& patch : markPaint->draw (marks.at (frame.delivered)))
        patches.push_back (std::move (patch));
    if (patches.empty())
        return writer->add (*bare);
    // A picture that stays is not copied again: only what was drawn over is put right.
    if (std::exchange (fresh, false))
        dressed->copyFrom (*bare);
    else
        for (const auto& area : covered)
            dressed->copyFrom (*bare, area);
    covered.clear();
    for (const auto& patch : patches)
    {
        dressed->blend (patch.box.x, patch.box.y, patch.box.width, patch.box.height, patch.pixels->data());
        covered.push_back ({ patch.box.x, patch.box.y, patch.box.width, patch.box.height });
    }
    return writer->add (*dressed);
}

void Renderer::addPop (std::int64_t first, std::span<float> stereo) const
{
    const auto rate = times.timings.delivery().rate.perSecond;
    for (const auto pop : { plan.popBefore(), plan.popAfter() })
    {
        if (! pop)
            continue;
        const auto begin = time::sampleAt (time::Rational (*pop) / rate, soundRate);
        const auto end = time::sampleAt (time::Rational (*pop + 1) / rate, soundRate);
        const auto count = static_cast<std::int64_t> (stereo.size() / 2);
        for (auto s = std::max (begin, first); s < std::min (end, first + count); ++s)
        {
            const auto level =
                static_cast<float> (popLevel * std::sin (2 * M_PI * popPitch * static_cast<double> (s - begin) / soundRate));
            stereo[static_cast<std::size_t> (2 * (s - first))] += level;
            stereo[static_cast<std::size_t> (2 * (s - first)) + 1] += level;
        }
    }
}

/// The sound while one delivered frame is seen: on the film's grid, never accumulated (DESIGN 7).
Result<Done> Renderer::hear (std::int64_t delivered)
{
    if (! wish.sound)
        return Done{};
    const auto rate = times.timings.delivery().rate.perSecond;
    const auto first = time::sampleAt (time::Rational (delivered) / rate, soundRate);
    const auto end = time::sampleAt (time::Rational (delivered + 1) / rate, soundRate);
    sound.assign (static_cast<std::size_t> (2 * (end - first)), 0.0f);
    if (wish.mixed && ! wish.mixed (first, sound))
        return unreadable (result.path, "its sound could not be mixed; check the sounds of the book");
    addPop (first, sound);
    return writer->addSound (sound);
}

Result<Rendered> Renderer::run (const std::string& path, const Progress& progress)
{
    result.path = path;
    if (const auto chosen = chooseShape(); ! chosen)
        return chosen.error();
    const auto& timings = times.timings;
    const auto& rate = timings.delivery().rate;
    for (const auto& id : wish.marks.hits)
        if (std::none_of (times.hits.begin(), times.hits.end(), [&] (const auto& row) { return row.hit.id == id; }))
            return usageError ("hit " + id, "is not in the book; its hits are listed by: hits BOOK list");
    const auto marks = overlay::planMarks (hitMarks (times, wish.reel, wish.marks), rate.perSecond, wish.marks.cautionRead);
    if (! marks)
        return marks.error();

    media::MovieSpec spec;
    spec.width = width;
    spec.height = height;
    spec.rate = rate.perSecond;
    spec.codec = wish.codec;
    spec.startLabel = plan.startLabel();
    spec.sound = wish.sound;
    spec.soundRate = soundRate;
    spec.crf = wish.crf;
    spec.preset = wish.preset;
    spec.title = open.book.title;
    auto opened = media::MovieWriter::open (path, spec);
    if (! opened)
        return opened.error();
    writer = std::move (*opened);
    bare.emplace (width, height, spec.codec);
    dressed.emplace (width, height, spec.codec);
    if (wish.overlay)
    {
        overlay.emplace (width, height, boxOf (picture), wish.parts);
        bare->fill ({ 0, 0, width, height }, overlay::rgbOf (overlay::ground));
        result.besidePicture = overlay->besidePicture();
    }
    markPaint.emplace (boxOf (picture), wish.marks.dye);
    RenderReadout readout (times, wish.reel, wish.countdownTo, wish.receiver);

    const auto total = plan.frames();
    for (std::int64_t i = 0; i < total; ++i)
    {
        if (progress && ! progress (static_cast<double> (i) / static_cast<double> (total), "rendering"))
            return Error{ ErrorCode::cancelled, path, "rendering was stopped; nothing of it was kept" };
        const auto frame = plan.at (i);
        if (! frame)
            return frame.error();
        if (const auto shown = show (*frame, *marks, readout); ! shown)
            return shown.error();
        if (const auto heard = hear (frame->delivered); ! heard)
            return heard.error();
    }
    result.samples = writer->samples();
    if (const auto finished = writer->finish(); ! finished)
        return finished.error();

    result.frames = total;
    result.leaderFrames = plan.leaderFrames();
    result.pictureFrames = plan.pictureFrames();
    if (plan.popBefore())
        result.popBefore = *plan.popBefore() + plan.leaderFrames();
    if (plan.popAfter())
        result.popAfter = *plan.popAfter() + plan.leaderFrames();
    result.rate = rate;
    result.startLabel = spec.startLabel;
    result.pictureStart = timings.timecodeOf (0, wish.reel);
    result.width = width;
    result.height = height;
    if (spec.startLabel.empty())
        result.notes.push_back ("the movie has no timecode track: " + time::rateName (rate) + " pictures a second has no timecode");
    if (damaged > 0)
        result.notes.push_back (std::to_string (damaged) + " picture(s) could not be decoded whole; the movie shows what there is");
    return result;
}
} // namespace

Result<Rendered> renderReel (const OpenBook& open, const std::string& path, const RenderWish& wish, const Progress& progress)
{
    const auto times = spotting::timesOf (open.book, wish.asked);
    if (! times)
        return times.error();
    auto plan = RenderPlan::of (times->timings, wish.reel, wish.leaderSeconds, wish.pop);
    if (! plan)
        return plan.error();
    for (const auto& print : open.book.prints)
        for (const auto& reel : print.reels)
        {
            std::error_code ignored;
            for (const auto& film : { filmPath (open, reel), pathFromBook (open.path, reel.workingCopy) })
                if (! film.empty() && std::filesystem::equivalent (film, path, ignored))
                    return usageError (path, "is one of the book's own films; give the movie another name");
        }
    auto full = wish;
    std::vector<std::string> notes = times->notes;
    if (wish.sound && ! wish.mixed && (wish.click || ! open.book.sounds.empty()))
    {
        FilmSoundWish heard;
        heard.reel = wish.reel;
        heard.cueClicks = wish.click;
        auto sound = FilmSound::of (open, *times, heard);
        if (! sound)
            return sound.error();
        notes.insert (notes.end(), sound->notes().begin(), sound->notes().end());
        if (wish.click && ! sound->plan().clicks.empty())
            notes.push_back (clickCaution());
        full.mixed = sound->render (soundRate);
    }
    auto made = Renderer (open, *times, std::move (*plan), full).run (path, progress);
    if (made)
        made->notes.insert (made->notes.begin(), notes.begin(), notes.end());
    return made;
}
} // namespace shutterbeat::desk
