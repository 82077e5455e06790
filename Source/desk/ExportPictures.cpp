#include "desk/ExportPictures.h"

#include "desk/FilmPath.h"
#include "media/JpegPicture.h"

#include <algorithm>
#include <atomic>
#include <thread>

namespace shutterbeat::desk
{
namespace
{
/// The largest a sheet prints is 74 points wide: about 200 pixels to the inch.
constexpr int pictureWidth = 208, pictureHeight = 156;
/// Each is asked for once, from front to back: nothing need be kept for going back.
constexpr std::size_t keepBytes = std::size_t (16) << 20;
} // namespace

std::optional<ExportPictures::Key> ExportPictures::keyOf (const film::Timings& timings, const film::Position& position)
{
    if (position.where != film::Position::Where::picture)
        return {};
    const auto& shot = timings.edition().shots[position.shot];
    return Key{ shot.print, shot.first + position.frameInShot };
}

std::vector<std::pair<const film::Print*, std::int64_t>>
ExportPictures::framesOf (const film::Timings& timings, const std::vector<Key>& keys, std::size_t from, std::size_t end)
{
    std::vector<std::pair<const film::Print*, std::int64_t>> frames;
    for (auto i = from; i < end; ++i)
        if (const auto* print = timings.print (keys[i].first))
            frames.emplace_back (print, keys[i].second);
    return frames;
}

void ExportPictures::want (const spotting::BookTimes& times, PicturesOf which, std::set<Key>& wanted) const
{
    if (which == PicturesOf::none)
        return;
    const auto& timings = times.timings;
    const auto wantAt = [&] (const film::Position& position)
    {
        if (const auto key = keyOf (timings, position); key && ! pictures.contains (*key))
            wanted.insert (*key);
    };
    const bool heads = which == PicturesOf::hitsAndCuts || which == PicturesOf::recut;
    if (which == PicturesOf::hits || which == PicturesOf::hitsAndCuts)
        for (const auto& row : times.hits)
            if (row.at && row.at->sourceFrame)
                if (const auto position = timings.find (row.hit.place))
                    wantAt (*position);
    if (which == PicturesOf::hits)
        for (const auto& row : times.cues)
            for (const auto& place : { row.cue.in, row.cue.out })
                if (const auto position = timings.find (place))
                    wantAt (*position);
    for (std::size_t i = 0; i < timings.edition().shots.size(); ++i)
        if (heads || (which == PicturesOf::cards && timings.edition().shots[i].kind == film::ShotKind::card))
            wantAt (timings.shotHead (i));
}

Result<Done> ExportPictures::fetch (const spotting::BookTimes& times, const std::vector<PicturesOf>& which,
                                    const Progress& progress)
{
    // By print and source frame, which is the order of its files: each is decoded once from front to back, whatever the sheets.
    std::set<Key> wanted;
    for (const auto each : which)
        want (times, each, wanted);
    return fetchAll (times.timings, { wanted.begin(), wanted.end() }, progress);
}

Result<ExportPictures::SmallPicture> ExportPictures::fetchOne (Pictures& reader, const film::Timings& timings, const Key& key)
{
    const auto* print = timings.print (key.first);
    if (print == nullptr)
        return SmallPicture();
    auto picture = reader.sourceFrame (*print, key.second, pictureWidth, pictureHeight);
    if (! picture)
    {
        const auto in = film::reelFrameOf (*print, key.second);
        if (in && isToCome (print->reels[in->reel]))
        {
            const std::lock_guard<std::mutex> alone (notesMutex);
            toCome.insert ("print " + print->name + " has no pictures yet: where they belong, sheets have none");
            return SmallPicture();
        }
        return whyNot (picture.error());
    }
    // Encoded once, however many sheets it stands on. Where it can't be, sheets hold the bytes themselves.
    auto jpeg = media::jpegOf (*picture);
    return SmallPicture (std::make_shared<const sheets::SheetPicture> (
        sheets::SheetPicture{ picture->width, picture->height, false, std::move (picture->rgb), jpeg ? std::move (*jpeg) : "" }));
}

/// A sheet with holes where its pictures belong would pass for whole.
Error ExportPictures::whyNot (Error error) const
{
    if (error.code == ErrorCode::unreadable)
        error.message += "; if the film has moved, tell the book with: shutterbeat relink " + book.path + " FILE";
    return error;
}

/// In as many parts as there are processor cores, each from front to back by readers of its own.
Result<Done> ExportPictures::fetchAll (const film::Timings& timings, const std::vector<Key>& keys, const Progress& progress)
{
    constexpr std::size_t fewest = 24, mostParts = 4; // a part has to be worth another reader, and readers take memory
    const std::size_t cores = std::max (1u, std::thread::hardware_concurrency());
    const auto parts = std::clamp<std::size_t> (keys.size() / fewest, 1, std::min (cores, mostParts));
    while (films.size() < parts)
        films.push_back (std::make_unique<Pictures> (book, keepBytes));
    std::vector<SmallPicture> found (keys.size());
    std::atomic<std::size_t> count{ 0 };
    std::atomic<bool> stopped{ false };
    const auto fetchSome = [&] (std::size_t part, std::size_t from, std::size_t end) -> Result<Done>
    {
        for (auto i = from; i < end && ! stopped; ++i)
        {
            const auto now = ++count;
            // Only the caller's own thread speaks to the caller.
            if (part == 0 && progress
                && ! progress (static_cast<double> (now) / static_cast<double> (keys.size() + 1), "pictures for the sheets"))
            {
                stopped = true;
                return Error{ ErrorCode::cancelled, "sheets", "stopped; nothing was written" };
            }
            auto one = fetchOne (*films[part], timings, keys[i]);
            if (! one)
            {
                stopped = true;
                return one.error();
            }
            found[i] = std::move (*one);
        }
        return Done{};
    };
    const auto begin = [&] (std::size_t part) { return part * keys.size() / parts; };
    std::vector<Result<Done>> results (parts, Done{});
    std::vector<std::thread> others;
    // One part after the other says what it is going to ask for: that opens and indexes every file once.
    for (std::size_t part = 0; part < parts; ++part)
        if (auto said = films[part]->onlyThese (framesOf (timings, keys, begin (part), begin (part + 1))); ! said)
            return whyNot (said.error());
    for (std::size_t part = 1; part < parts; ++part)
        others.emplace_back ([&, part] { results[part] = fetchSome (part, begin (part), begin (part + 1)); });
    results[0] = fetchSome (0, 0, begin (1));
    for (auto& other : others)
        other.join();
    for (const auto& result : results)
        if (! result)
            return result;
    for (std::size_t i = 0; i < keys.size(); ++i)
        if (found[i])
            pictures[keys[i]] = std::move (found[i]);
    return Done{};
}

std::shared_ptr<const sheets::SheetPicture> ExportPictures::at (const film::Timings& timings, const film::Position& position) const
{
    const auto key = keyOf (timings, position);
    if (! key)
        return nullptr;
    const auto found = pictures.find (*key);
    return found == pictures.end() ? nullptr : found->second;
}
} // namespace shutterbeat::desk
