// Everything that leaves the bench: all lists and sheets of a book of ten cues and 400 hits, pictures included.
#include "bench/Report.h"
#include "desk/Export.h"

using namespace shutterbeat;

namespace
{
constexpr int minutes = 5, rate = 24, frames = minutes * 60 * rate, shots = 100, hits = 400, cues = 10;

/// A film of that many pictures, and a book that names it.
spotting::Book bookOf (const std::string& path)
{
    film::Print print;
    print.id = "p1";
    print.name = "Print one";
    film::ReelFile file;
    file.path = path;
    file.width = 640;
    file.height = 480;
    file.cadence = film::Cadence::oneToOne (frames);
    print.reels = { file };
    film::Edition edition;
    edition.speed = time::Rational (20);
    for (int i = 0; i < shots; ++i)
    {
        film::Shot shot;
        shot.name = std::to_string (i + 1);
        shot.id = "s" + shot.name;
        shot.print = "p1";
        shot.first = std::int64_t{ i } * frames / shots;
        shot.end = std::int64_t{ i + 1 } * frames / shots;
        if (i % 5 == 4)
        {
            shot.kind = film::ShotKind::card;
            shot.wording = "Meanwhile, at the mill, somebody else had the same idea.";
        }
        edition.shots.push_back (shot);
    }
    spotting::Book book;
    book.title = "The Runaway Ladder";
    book.prints = std::vector{ print };
    book.editions = std::vector{ edition };
    book.delivery = { { time::Rational (25), false }, {} };
    std::vector<spotting::Cue> music;
    for (int i = 0; i < cues; ++i)
    {
        spotting::Cue cue;
        cue.id = "c" + std::to_string (i);
        cue.number = "1M" + std::to_string (i + 1);
        cue.title = "Cue " + cue.number;
        cue.mood = "Sly, on tiptoe; never quite in step with him";
        cue.in = film::PicturePlace{ "p1", std::int64_t{ i } * frames / cues, 0 };
        cue.out = film::PicturePlace{ "p1", std::int64_t{ i + 1 } * frames / cues - 1, 0 };
        cue.tempo = bench::must (music::TempoMap::steady (time::Rational (96 + i)));
        music.push_back (cue);
    }
    book.cues = music;
    std::vector<spotting::HitPoint> all;
    for (int i = 0; i < hits; ++i)
    {
        spotting::HitPoint hit;
        hit.id = "h" + std::to_string (i);
        hit.place = film::PicturePlace{ "p1", std::int64_t{ i } * frames / hits + i % 7, 0 };
        hit.kind = static_cast<spotting::HitKind> (i % 8);
        hit.weight = static_cast<spotting::Weight> (i % 3);
        hit.label = "What happens at hit " + std::to_string (i);
        hit.note = i % 4 == 0 ? "A dry wood block on this frame; the look to us comes later and wants silence." : "";
        hit.cue = "c" + std::to_string (i * cues / hits);
        all.push_back (hit);
    }
    book.hits = all;
    return book;
}
} // namespace

int main()
{
    const auto folder = bench::scratch();
    const auto film = folder + "/film.mp4";
    bench::shell ("ffmpeg -v error -y -f lavfi -i testsrc2=size=640x480:rate=" + std::to_string (rate) + " -frames:v "
                  + std::to_string (frames) + " -c:v libx264 -preset veryfast -pix_fmt yuv420p '" + film + "'");
    const desk::OpenBook open{ bookOf (film), folder + "/ladder.shutterbeat", "" };
    desk::ExportWish wish;
    wish.stamped = "2026-05-01";
    // Once to index the film, as a book that has been scanned is.
    bench::must (desk::exportAll (open, folder + "/first", wish));
    std::size_t files = 0;
    const double took =
        bench::best (2, [&] { files = bench::must (desk::exportAll (open, folder + "/again", wish)).files.size(); });
    bench::report ("all lists and sheets, 400 hits", took, 3,
                   std::to_string (files) + " files, a film of " + std::to_string (minutes) + " minutes at 640x480", "s");
    return took <= 3 ? 0 : 1;
}
