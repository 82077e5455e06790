#include "window/SoundOutlines.h"

#include "desk/Sounds.h"
#include "window/Bench.h"

#include <algorithm>
#include <set>

namespace shutterbeat::window
{
namespace
{
std::string keyOf (const spotting::Sound& sound)
{
    return sound.path + "\n" + sound.identity;
}

SoundOutlines::Outline heard (const std::string& path, const desk::Progress& progress)
{
    SoundOutlines::Outline outline;
    constexpr double most = 1800; // seconds listened to at a time
    double from = 0, length = 1;
    while (from < length)
    {
        auto piece = desk::hearSound (path, from, from + most, progress);
        if (! piece)
        {
            outline.failure = piece.error().text();
            break;
        }
        length = piece->length;
        const double next = piece->to;
        if (piece->peaks.zooms() > 0)
            for (const auto& peak : piece->peaks.zoom (piece->peaks.zooms() - 1))
                outline.loudest = std::max ({ outline.loudest, int (peak.high), -int (peak.low) });
        outline.pieces.push_back (std::move (*piece));
        if (next <= from)
            break;
        from = next;
    }
    return outline;
}
} // namespace

const SoundOutlines::Outline* SoundOutlines::of (const spotting::Sound& sound) const
{
    const auto found = known.find (keyOf (sound));
    return found == known.end() ? nullptr : &found->second;
}

void SoundOutlines::refresh()
{
    if (! bench.hasBook() || listening)
        return;
    std::set<std::string> there;
    const spotting::Sound* next = nullptr;
    for (const auto& sound : bench.book().sounds)
    {
        there.insert (keyOf (sound));
        if (next == nullptr && known.count (keyOf (sound)) == 0)
            next = &sound;
    }
    std::erase_if (known, [&] (const auto& one) { return there.count (one.first) == 0; });
    if (next != nullptr)
        listen (keyOf (*next), desk::soundPath (bench.opened(), *next));
}

void SoundOutlines::listen (const std::string& key, const std::string& path)
{
    listening = true;
    const auto found = std::make_shared<Outline>();
    bench.inBackground ([found, path, given = given]
                        { *found = heard (path, [&] (double, const std::string&) { return ! *given; }); },
                        [this, key, found]
                        {
                            listening = false;
                            known[key] = std::move (*found);
                            bench.changed();
                        });
}
} // namespace shutterbeat::window
