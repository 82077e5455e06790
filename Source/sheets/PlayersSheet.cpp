#include "sheets/PlayersSheet.h"

#include "sheets/Signal.h"
#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::sheets
{
namespace
{
using time::Rational;
const Style partLabel{ Face::words, 8, false, quiet };
constexpr double numberRight = 30, partLeft = 48, timeWidth = 62;

std::string pieceOf (const spotting::Book& book, const spotting::Cue& cue)
{
    std::string text;
    for (const auto& use : book.uses)
        if (use.cue == cue.id)
            for (const auto& work : book.works)
                if (work.id == use.work)
                    text += (text.empty() ? "" : ", then ") + work.title;
    return text.empty() ? cue.title : text;
}

/// As many lines as a player reads at a glance; what is over is cut with an ellipsis.
std::string glance (Words& words, const std::string& text, const Style& style, double room, int lines)
{
    const auto parts = words.pieces (text, style, room, lines);
    if (parts.size() == 1)
        return text;
    // A word shorter than the line it ends, so that the ellipsis still fits on it.
    return parts[0].substr (0, parts[0].rfind (' ')) + " …";
}

/// A wording in quotation marks, unless it has some.
std::string inQuotes (const std::string& wording)
{
    for (const char* sign : { "“", "\"", "»", "„", "«", "‘" })
        if (wording.rfind (sign, 0) == 0)
            return wording;
    return "“" + wording + "”";
}

/// A line of what has to sound besides music: its moment from the cue's in, and what.
std::vector<std::string> effectsOf (const spotting::BookTimes& times, const spotting::CueTimes& row)
{
    std::vector<std::string> effects;
    for (const auto i : row.hits)
    {
        const auto& hit = times.hits[i].hit;
        if (hit.kind != spotting::HitKind::effect && hit.kind != spotting::HitKind::stop)
            continue;
        const auto seconds = filmSeconds (times.timings, row.cue.in, hit.place);
        const std::string what = hit.label.empty() ? std::string (spotting::hitKindName (hit.kind)) : hit.label;
        effects.push_back ((seconds ? time::clockText (*seconds, 0) + " " : "")
                           + (hit.kind == spotting::HitKind::stop ? "stop: " : "") + what);
    }
    return effects;
}
} // namespace

Result<Sheet> playersSheet (const spotting::Book& book, const spotting::BookTimes& times, const SheetHead& head)
{
    SheetPages pages (times, head, "Music for the showing");
    auto& words = pages.words;
    const double width = pages.width(), room = width - partLeft - timeWidth;
    const auto& edition = times.timings.edition();
    std::string speeds;
    {
        Rational slow, fast;
        for (const auto& shot : edition.shots)
            if (! shot.made)
            {
                const auto speed = film::speedOf (edition, shot);
                slow = slow.sign() == 0 ? speed : std::min (slow, speed);
                fast = std::max (fast, speed);
            }
        speeds = time::speedText (slow) + (slow == fast ? "" : " to " + time::speedText (fast)) + " pictures a second";
    }
    Rational film;
    for (std::size_t reel = 0; reel < times.timings.reelCount(); ++reel)
        film += times.timings.filmTime (reel).length();

    const Style titleStyle{ Face::wording, 34 };
    for (const auto& piece : words.pieces (head.title.empty() ? "Untitled" : head.title, titleStyle, width, 3))
        pages
            .add (words.measure (piece, titleStyle, width).height,
                  [=, &words] (cairo_t* cairo, double x, double y) { words.block (cairo, piece, titleStyle, x, y, width); })
            .keepWithNext = true;
    const std::string about =
        "Projected at " + speeds + " the film runs " + time::clockText (film, 0) + ". Times are minutes and seconds.";
    pages
        .add (46,
              [=, &words] (cairo_t* cairo, double x, double y)
              {
                  words.line (cairo, "Music for the showing", { Face::words, 12, true, night }, x, y + 14);
                  words.line (cairo, words.fitted (about, { Face::words, 10 }, width), { Face::words, 10 }, x, y + 34);
              })
        .keepWithNext = true;

    std::size_t number = 0;
    for (std::size_t i = 0; i < times.cues.size(); ++i)
    {
        const auto& row = times.cues[i];
        const auto& cue = row.cue;
        const auto signal = signalAt (times, cue.in);
        const bool tacet = cue.kind == spotting::CueKind::tacet;
        const auto seconds = filmSeconds (times.timings, cue.in, cue.out);
        // The next begins where this ends: no pause.
        bool segue = false;
        if (i + 1 < times.cues.size())
            if (const auto gap = filmSeconds (times.timings, cue.out, times.cues[i + 1].cue.in))
                segue = gap->sign() == 0 && times.cues[i + 1].cue.kind != spotting::CueKind::tacet && ! tacet;
        const Style how{ Face::words, 10 }, what = signal.title ? Style{ Face::wording, 15 } : Style{ Face::words, 11, true };
        const Style piece{ Face::words, 12, true, night }, mood{ Face::words, 10 }, side{ Face::words, 9.5, false, quiet };
        const double howWide = words.measure (signal.how, how).width + 10;
        const std::string signalText = glance (words,
                                               signal.what.empty() ? ""
                                               : signal.title      ? inQuotes (signal.what)
                                                                   : signal.what,
                                               what, room - howWide, 4);
        std::string music = tacet ? "Tacet" : pieceOf (book, cue);
        if (cue.kind == spotting::CueKind::effect)
            music = music.empty() ? "Effect" : music;
        std::string manner = cue.mood;
        if (const auto tempo = spotting::tempoText (cue); ! tempo.empty())
            manner += (manner.empty() ? "" : "; ") + tempo + " a minute";
        if (cue.kind == spotting::CueKind::seenMusic)
            manner += std::string (manner.empty() ? "" : "; ") + "the players are seen";
        std::string effects;
        for (const auto& effect : effectsOf (times, row))
            effects += (effects.empty() ? "" : ";  ") + effect;
        music = glance (words, music, piece, room, 3);
        manner = glance (words, manner, mood, room, 4);
        effects = glance (words, effects, side, room, 6);
        const double signalHigh = signalText.empty() ? 16 : words.measure (signalText, what, room - howWide).height;
        const double musicHigh = music.empty() ? 0 : words.measure (music, piece, room).height;
        const double mannerHigh = manner.empty() ? 0 : words.measure (manner, mood, room).height;
        const double effectsHigh = effects.empty() ? 0 : words.measure (effects, side, room).height + 3;
        ++number;
        pages.add (
            std::max (26.0, signalHigh + musicHigh + mannerHigh + effectsHigh + 6) + 10,
            [=, &words] (cairo_t* cairo, double x, double y)
            {
                fillBox (cairo, x, y, width, 0.6, hairline);
                words.line (cairo, std::to_string (number), { Face::words, 17, true }, x + numberRight, y + 24, Align::right);
                words.line (cairo, signal.how, how, x + partLeft,
                            y + 8 + words.measure (signalText.empty() ? "x" : signalText, what, room - howWide).baseline);
                words.block (cairo, signalText, what, x + partLeft + howWide, y + 8, room - howWide);
                double top = y + 10 + signalHigh;
                top += words.block (cairo, music, piece, x + partLeft, top, room);
                top += words.block (cairo, manner, mood, x + partLeft, top, room);
                words.block (cairo, effects, side, x + partLeft, top + 3, room);
                words.line (cairo, seconds ? time::clockText (*seconds, 0) : "?", { Face::figures, 15, true }, x + width, y + 24,
                            Align::right);
                if (segue)
                    words.line (cairo, "segue", { Face::wording, 13 }, x + width, y + 42, Align::right);
            },
            8);
    }
    if (times.cues.empty())
        pages.paragraph ("No cues yet.", { Face::words, 11 }, 16);
    return pages.finish();
}
} // namespace shutterbeat::sheets
