#include "desk/Still.h"

#include "desk/Pictures.h"
#include "media/PngFile.h"
#include "store/WholeFile.h"
#include "time/Text.h"
#include "time/Timecode.h"

#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
/// A book is told by its ending: a damaged one must be reported as a damaged book, not as an unknown film.
bool isBook (const std::string& path)
{
    return time::endsWith (time::lowerAscii (path), ".shutterbeat");
}

Result<media::Picture> pictureOfBook (const std::string& source, const film::TypedPlace& typed, const spotting::Asked& asked,
                                      std::vector<std::string>& notes)
{
    const auto open = openBook (source);
    if (! open)
        return open.error();
    const auto timings = spotting::timingsOf (open->book, asked);
    if (! timings)
        return timings.error();
    notes = timings->notes();
    const auto position = timings->find (typed);
    if (! position)
        return position.error();
    if (position->where != film::Position::Where::picture)
        return usageError ("place", "there is no photographed picture there (a made card, or outside the film)");
    return Pictures (*open).at (*timings, *position);
}

Result<std::int64_t> fileFrameFor (const media::FilmInfo& info, const film::TypedPlace& typed)
{
    using Kind = film::TypedPlace::Kind;
    if (typed.kind == Kind::fileFrame)
        return typed.frame;
    if (typed.kind == Kind::seconds)
        return time::floorOf (typed.seconds * info.rate);
    if (typed.kind == Kind::timecode)
    {
        const bool drop = info.startLabel.find (';') != std::string::npos;
        const time::Rate rate{ info.rate, drop };
        const auto wanted = time::parseLabel (typed.text, rate);
        const auto start =
            time::parseLabel (info.startLabel.empty() ? "00:00:00:00" : info.startLabel, rate, time::LabelReading::media);
        if (! wanted)
            return wanted.error();
        if (! start)
            return start.error();
        return wanted->value - start->value;
    }
    return usageError ("place",
                       "a film file has no film frames, feet or shots yet; use file:N, a timecode, seconds, or make a book first");
}
} // namespace

Result<std::vector<std::string>> writeStill (const std::string& source, const std::string& place, const std::string& output,
                                             const spotting::Asked& asked)
{
    const bool book = isBook (source);
    const auto typed = film::parsePlace (place, book ? film::BareNumber::filmFrame : film::BareNumber::fileFrame);
    if (! typed)
        return typed.error();
    std::vector<std::string> notes;
    std::optional<media::Picture> picture;
    if (book)
    {
        auto made = pictureOfBook (source, *typed, asked, notes);
        if (! made)
            return made.error();
        picture = std::move (*made);
    }
    else
    {
        auto reader = media::FrameReader::open (source);
        if (! reader)
            return reader.error();
        const auto& info = (*reader)->info();
        const auto frame = fileFrameFor (info, *typed);
        if (! frame)
            return frame.error();
        if (*frame < 0 || *frame >= info.frames)
            return usageError (source,
                               "has no frame at " + place + "; its frames go from 0 to " + std::to_string (info.frames - 1));
        auto made = (*reader)->frame (*frame, 0, 0);
        if (! made)
            return made.error();
        picture = std::move (*made);
    }
    if (picture->damaged)
        notes.push_back ("this frame can't be decoded; it is written as damaged");
    const auto written = media::writePng (output, *picture);
    if (! written)
        return written.error();
    return notes;
}
} // namespace shutterbeat::desk
