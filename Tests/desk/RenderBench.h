#pragma once

#include "Catch.h"
#include "desk/Render.h"
#include "media/FrameReader.h"
#include "media/NumberedFilm.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <set>
#include <string>
#include <vector>

/// A film with numbers in its pictures, a book that uses it, and movies rendered from that.
namespace shutterbeat::tests
{
/// What a shell command prints, without the last line's end.
inline std::string printed (const std::string& command)
{
    std::string text;
    FILE* pipe = ::popen (command.c_str(), "r");
    REQUIRE (pipe != nullptr);
    std::array<char, 4096> block{};
    for (std::size_t got = 0; (got = std::fread (block.data(), 1, block.size(), pipe)) > 0;)
        text.append (block.data(), got);
    REQUIRE (::pclose (pipe) == 0);
    while (! text.empty() && text.back() == '\n')
        text.pop_back();
    return text;
}

/// A film of `count` numbered pictures in the colours of a movie, so that nothing need be converted.
inline std::string numberedFilm (const TestFolder& folder, int count, const std::string& name = "film.mp4")
{
    return encode (folder, name,
                   "-c:v libx264 -preset ultrafast -crf 12 -g 25 -bf 2 -color_range tv -colorspace bt709 -color_primaries bt709 "
                   "-color_trc bt709",
                   "25", count);
}

inline film::Shot filmShot (const std::string& id, std::int64_t first, std::int64_t end, const time::Rational& speed)
{
    film::Shot shot;
    shot.id = shot.name = id;
    shot.print = "p1";
    shot.first = first;
    shot.end = end;
    shot.speed = speed;
    return shot;
}

inline film::Shot madeShot (const std::string& id, const time::Rational& seconds, film::ShotKind kind,
                            const std::string& wording = "")
{
    film::Shot shot;
    shot.id = shot.name = id;
    shot.kind = kind;
    shot.made = seconds;
    shot.wording = wording;
    return shot;
}

inline desk::OpenBook bookOf (const TestFolder& folder, const std::string& film, std::vector<film::Shot> shots,
                              const std::string& rate = "24", const std::string& fill = "true",
                              std::optional<film::Cadence> cadence = {})
{
    const auto info = media::openFilm (film);
    INFO ((info ? "" : info.error().text()));
    REQUIRE (info);
    film::ReelFile reel;
    reel.path = film;
    reel.identity = info->identity;
    reel.cadence = cadence ? *cadence : film::Cadence::oneToOne (info->frames);
    reel.width = info->width;
    reel.height = info->height;
    film::Edition edition;
    edition.speed = 18;
    edition.shots = std::move (shots);
    spotting::Book book;
    book.title = "The Numbered Film";
    film::Print print;
    print.id = "p1";
    print.name = "print";
    print.reels = { reel };
    book.prints = std::vector<film::Print>{ print };
    book.editions = std::vector<film::Edition>{ edition };
    const auto parsed = time::parseRate (rate);
    REQUIRE (parsed);
    const auto from = film::parseFill (fill);
    REQUIRE (from);
    book.delivery = { parsed->value, *from };
    return { book, folder.path ("book.shutterbeat"), "" };
}

inline spotting::HitPoint hitOn (const std::string& id, std::int64_t sourceFrame, spotting::Weight weight = spotting::Weight::must)
{
    spotting::HitPoint hit;
    hit.id = id;
    hit.label = "hit " + id;
    hit.place = film::PicturePlace{ "p1", sourceFrame, 0 };
    hit.weight = weight;
    return hit;
}

/// As small and as quick as it goes, nothing lost, nothing drawn over.
inline desk::RenderWish plainWish()
{
    desk::RenderWish wish;
    wish.size = { filmWidth, filmHeight };
    wish.crf = 0;
    wish.preset = "ultrafast";
    wish.overlay = false;
    return wish;
}

inline desk::Rendered rendered (const desk::OpenBook& open, const std::string& path, const desk::RenderWish& wish)
{
    auto made = desk::renderReel (open, path, wish);
    INFO ((made ? "" : made.error().text()));
    REQUIRE (made);
    return std::move (*made);
}
} // namespace shutterbeat::tests
