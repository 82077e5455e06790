#pragma once

#include "desk/OpenBook.h"
#include "desk/Pictures.h"
#include "sheets/Sheet.h"

#include <map>
#include <set>

namespace shutterbeat::desk
{
/// Which pictures sheets are going to ask for.
enum class PicturesOf
{
    none,
    hits,        ///< every hit's frame
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
        , films (open)
    {
    }

    /// Fetches what is not here yet. Error: a film that can't be read, or the user stopped it.
    Result<Done> fetch (const spotting::BookTimes& times, PicturesOf which, const Progress& progress);
    /// The picture of a position that has been fetched, or null.
    [[nodiscard]] std::shared_ptr<const sheets::SheetPicture> at (const film::Timings& timings,
                                                                  const film::Position& position) const;
    /// Sentences for the user: prints whose pictures are to come.
    [[nodiscard]] std::vector<std::string> notes() const { return { toCome.begin(), toCome.end() }; }

private:
    using Key = std::pair<std::string, std::int64_t>; ///< print, source film frame

    static std::optional<Key> keyOf (const film::Timings& timings, const film::Position& position);

    const OpenBook& book;
    Pictures films;
    std::map<Key, std::shared_ptr<const sheets::SheetPicture>> pictures;
    std::set<std::string> toCome;
};
} // namespace shutterbeat::desk
