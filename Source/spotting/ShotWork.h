#pragma once

#include "spotting/ShotEdit.h"

#include <functional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// A book's editions and places laid out for several corrections in a row; made into a book again at the end.
class ShotWork
{
public:
    explicit ShotWork (const Book& from);

    /// The book with what was changed; sections without changes stay shared.
    [[nodiscard]] Book finish() const;

    [[nodiscard]] const std::vector<film::Edition>& editions() const { return theEditions; }

    /// Ids of the shots that hold a frame of a print inside, not as their first, in any edition.
    [[nodiscard]] std::vector<std::string> around (const std::string& print, std::int64_t filmFrame) const;
    /// Cuts shot `id` at a frame: what lies from there on is called `later` afterwards.
    void split (const std::string& id, const std::string& later, const std::string& print, std::int64_t filmFrame, double strength,
                bool lock);
    /// Error as joinShot; nothing is changed then.
    Result<Done> join (const std::string& earlier, const std::string& later, bool lock);
    /// Error as moveCut; nothing is changed then.
    Result<Done> move (const std::string& earlier, const std::string& later, std::int64_t filmFrames, bool lock);
    /// Calls `change` with every use of a shot.
    void each (const std::string& id, const std::function<void (film::Shot&)>& change);

private:
    using Carry = std::function<film::Place (const film::Place&)>;
    void carry (const Carry& carried);
    [[nodiscard]] const film::Edition* worked() const;
    [[nodiscard]] int useBefore (std::size_t shot, std::int64_t filmFrame) const;

    Book book;
    std::vector<film::Edition> theEditions;
    std::vector<HitPoint> hits;
    std::vector<Cue> cues;
};
} // namespace shutterbeat::spotting
