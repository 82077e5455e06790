#include "spotting/Ids.h"
#include "spotting/ShotWork.h"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <set>

namespace shutterbeat::spotting
{
namespace
{
constexpr std::int64_t near = 3; // film frames: a cut told so much earlier or later is the same cut

/// A cut between two shots that follow each other in a print.
struct Cut
{
    std::string earlier, later;
    std::int64_t frame = 0;
    std::int64_t from = 0, to = 0; ///< the pictures of both
};

/// The cuts of a print that no person has decided, in order.
std::vector<Cut> openCuts (const ShotWork& work, const std::string& print)
{
    std::vector<Cut> cuts;
    std::set<std::pair<std::string, std::string>> seen;
    for (const auto& edition : work.editions())
        for (std::size_t i = 1; i < edition.shots.size(); ++i)
        {
            const auto& a = edition.shots[i - 1];
            const auto& b = edition.shots[i];
            if (! a.made && ! b.made && a.print == print && b.print == print && a.end == b.first && ! a.locked && ! b.locked
                && seen.insert ({ a.id, b.id }).second)
                cuts.push_back ({ a.id, b.id, b.first, a.first, b.end });
        }
    return cuts;
}

/// Whether a locked shot holds the frame or begins with it.
bool isLocked (const ShotWork& work, const std::string& print, std::int64_t frame)
{
    for (const auto& edition : work.editions())
        for (const auto& shot : edition.shots)
            if (! shot.made && shot.print == print && shot.locked && shot.first <= frame && frame <= shot.end)
                return true;
    return false;
}
} // namespace

Result<Rescanned> withNewScan (const Book& book, const std::string& person, const std::string& print,
                               const std::vector<film::ScannedShot>& found)
{
    if (std::none_of (book.prints.begin(), book.prints.end(), [&] (const film::Print& p) { return p.id == print; }))
        return usageError ("print " + print, "the book does not have it");
    ShotWork work (book);
    Rescanned changed;
    std::set<std::int64_t> heads;
    for (const auto& shot : found)
        heads.insert (shot.first);
    std::set<std::int64_t> had;
    for (const auto& cut : openCuts (work, print))
        had.insert (cut.frame);

    for (const auto& cut : openCuts (work, print))
    {
        if (heads.count (cut.frame) > 0)
            continue;
        std::optional<std::int64_t> moved;
        for (const auto head : heads)
            if (std::abs (head - cut.frame) <= near && had.count (head) == 0 && head > cut.from && head < cut.to
                && (! moved || std::abs (head - cut.frame) < std::abs (*moved - cut.frame)))
                moved = head;
        if (moved)
            changed.moved += work.move (cut.earlier, cut.later, *moved - cut.frame, false) ? 1 : 0;
    }
    // Joined from the end, so that a shot which goes is never needed again.
    auto cuts = openCuts (work, print);
    std::stable_sort (cuts.begin(), cuts.end(), [] (const Cut& a, const Cut& b) { return a.frame > b.frame; });
    for (const auto& cut : cuts)
        if (heads.count (cut.frame) == 0)
            changed.joined += work.join (cut.earlier, cut.later, false) ? 1 : 0;

    Book named = book;
    for (const auto& shot : found)
    {
        const auto ids = isLocked (work, print, shot.first) ? std::vector<std::string>{} : work.around (print, shot.first);
        if (ids.empty())
            continue;
        const auto added = takeIds (named, person, ids.size());
        if (! added)
            return added.error();
        for (std::size_t i = 0; i < ids.size(); ++i)
            work.split (ids[i], (*added)[i], print, shot.first, shot.strength, false);
        ++changed.split;
    }
    for (const auto& shot : found)
    {
        std::set<std::string> ids;
        for (const auto& edition : work.editions())
            for (const auto& s : edition.shots)
                if (! s.made && s.print == print && ! s.locked && s.first < shot.end && s.end > shot.first
                    && 2 * (std::min (s.end, shot.end) - std::max (s.first, shot.first)) > s.end - s.first)
                    ids.insert (s.id);
        for (const auto& id : ids)
        {
            bool other = false;
            work.each (id,
                       [&] (film::Shot& s)
                       {
                           other = other || s.kind != shot.kind;
                           s.kind = shot.kind;
                           if (s.first == shot.first)
                               s.strength = shot.strength;
                       });
            changed.retyped += other ? 1 : 0;
        }
    }
    changed.book = work.finish();
    changed.book.people = named.people;
    auto prints = book.prints.list();
    for (auto& p : prints)
        if (p.id == print)
            p.scanned = found;
    changed.book.prints = std::move (prints);
    return changed;
}
} // namespace shutterbeat::spotting
