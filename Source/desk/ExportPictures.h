#pragma once

#include "desk/OpenBook.h"
#include "desk/Pictures.h"
#include "sheets/Sheet.h"

#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <vector>

namespace shutterbeat::desk
{
/// Which pictures sheets are going to ask for.
enum class PicturesOf
{
    none,
    hits,        ///< every hit's frame, and those where cues start and stop
    cards,       ///< the first frame of every card
    hitsAndCuts, ///< every hit's frame, and the first frame of every shot
    recut        ///< the first frame of every shot, of this edition and of the one it was made from
};

/// Pictures of a book's films for sheets: each fetched once, in the order of the files, and kept small.
class ExportPictures
{
public:
    explicit ExportPictures (const OpenBook& open)
        : book (open)
    {
    }

    /// Fetches what is not here yet, all of it in one pass over the films. Error: a film that can't be read, or the user stopped
    /// it.
    Result<Done> fetch (const spotting::BookTimes& times, const std::vector<PicturesOf>& which, const Progress& progress);
    /// The picture of a position that has been fetched, or null.
    [[nodiscard]] std::shared_ptr<const sheets::SheetPicture> at (const film::Timings& timings,
                                                                  const film::Position& position) const;
    /// Sentences for the user: prints whose pictures are to come.
    [[nodiscard]] std::vector<std::string> notes() const { return { toCome.begin(), toCome.end() }; }

private:
    using Key = std::pair<std::string, std::int64_t>; ///< print, source film frame
    using SmallPicture = std::shared_ptr<const sheets::SheetPicture>;

    static std::optional<Key> keyOf (const film::Timings& timings, const film::Position& position);

    static std::vector<std::pair<const film::Print*, std::int64_t>>
    framesOf (const film::Timings& timings, const std::vector<Key>& keys, std::size_t from, std::size_t end);

    [[nodiscard]] Error whyNot (Error error) const;
    void want (const spotting::BookTimes& times, PicturesOf which, std::set<Key>& wanted) const;
    [[nodiscard]] Result<SmallPicture> fetchOne (Pictures& reader, const film::Timings& timings, const Key& key);
    Result<Done> fetchAll (const film::Timings& timings, const std::vector<Key>& keys, const Progress& progress);

    const OpenBook& book;
    std::vector<std::unique_ptr<Pictures>> films; ///< readers of each part
    std::map<Key, std::shared_ptr<const sheets::SheetPicture>> pictures;
    std::set<std::string> toCome;
    std::mutex notesMutex; ///< of toCome, while parts are fetched side by side
};
} // namespace shutterbeat::desk
