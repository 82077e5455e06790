#include "spotting/CardRegister.h"

#include "spotting/CardEdit.h"
#include "spotting/WordingText.h"

namespace shutterbeat::spotting
{
std::vector<CardRow> cardRows (const Book& book, const film::Timings& timings)
{
    std::vector<CardRow> rows;
    const auto& edition = timings.edition();
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        const auto& shot = edition.shots[i];
        if (shot.kind != film::ShotKind::card)
            continue;
        CardRow row;
        row.shot = i;
        row.card = shot;
        row.head = timings.times (timings.shotHead (i));
        if (const auto* chosen = chosenText (book, shot))
            row.chosen = *chosen;
        if (const auto* card = cardOf (book, shot.id))
            row.texts = card->texts;
        row.speed = film::speedOf (edition, shot);
        row.seconds = shot.made ? *shot.made : time::Rational (shot.frames()) / row.speed;
        const auto* print = shot.made ? nullptr : timings.print (shot.print);
        const int framesAFoot = (print != nullptr ? print->gauge : time::Gauge{}).framesPerFoot;
        row.feet = row.seconds * row.speed / time::Rational (framesAFoot);
        row.words = wordsIn (shot.wording);
        row.flash = ! shot.made && shot.frames() <= longestFlash;
        if (row.words > 0)
            for (const auto rule : readingRules())
            {
                const auto needed = secondsNeeded (rule, shot.wording, row.speed);
                row.readable.push_back ({ rule, needed, row.seconds >= needed });
            }
        rows.push_back (std::move (row));
    }
    return rows;
}
} // namespace shutterbeat::spotting
