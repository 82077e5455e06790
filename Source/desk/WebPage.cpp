#include "desk/WebPage.h"

#include "desk/Chapters.h"
#include "desk/Revisions.h"
#include "exchange/WebPage.h"
#include "store/WholeFile.h"

#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;

/// The movie as the page's folder sees it, as part of a URL.
std::string urlOf (const std::string& page, const std::string& movie)
{
    std::error_code failed;
    const auto relative = fs::absolute (movie, failed)
                              .lexically_normal()
                              .lexically_relative (fs::absolute (page, failed).lexically_normal().parent_path());
    std::string url;
    constexpr char digits[] = "0123456789ABCDEF";
    for (const char c : relative.generic_string())
    {
        const auto byte = static_cast<unsigned char> (c);
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_'
                           || c == '.' || c == '~' || c == '/';
        if (plain)
            url += c;
        else
            url += std::string ("%") + digits[byte >> 4] + digits[byte & 15];
    }
    return url;
}
} // namespace

Result<std::string> webPageText (const OpenBook& open, const std::string& path, const WebPageWish& wish)
{
    const auto times = spotting::timesOf (open.book, wish.asked);
    if (! times)
        return times.error();
    exchange::PageWish page;
    if (wish.movies.size() == times->timings.reelCount())
        for (std::size_t reel = 0; reel < wish.movies.size(); ++reel)
        {
            const auto leader = leaderOfMovie (times->timings, reel, wish.movies[reel], wish.leaderSeconds);
            if (! leader)
                return leader.error();
            page.movies.push_back ({ urlOf (path, wish.movies[reel]), *leader });
        }
    for (const auto& person : open.book.people)
        if (person.id == wish.person)
        {
            page.personName = person.name;
            page.lastNumber = person.lastNumber;
        }
    page.personId = wish.person;
    if (page.personName.empty())
        page.personName = wish.person;
    page.parcel = wish.parcel;
    if (wish.asked.running)
        page.running = time::speedName (*wish.asked.running);
    auto written = exchange::writeWebPage (*times, { open.book.title, wish.stamped, revisionText (open.book) }, page);
    if (! written)
        return written.error();
    return std::move (written->parts.front().bytes);
}

Result<Done> writeWebPage (const OpenBook& open, const std::string& path, const WebPageWish& wish)
{
    const auto text = webPageText (open, path, wish);
    return text ? store::writeWhole (path, *text) : Result<Done> (text.error());
}
} // namespace shutterbeat::desk
