#include "desk/Cards.h"

#include "desk/CardOrder.h"
#include "desk/Prints.h"
#include "media/FrameReader.h"
#include "reading/CardReader.h"
#include "reading/StillOf.h"
#include "spotting/CardEdit.h"
#include "spotting/ShotEdit.h"
#include "spotting/WordingText.h"

#include <algorithm>
#include <map>
#include <memory>
#include <set>

namespace shutterbeat::desk
{
namespace
{
using film::Print;
using film::Shot;

/// A run of a print's film frames that shows one card, and whose it is.
struct CardRun
{
    const Print* print = nullptr;
    std::int64_t first = 0, end = 0; ///< source film frames
    std::string shot;                ///< id; empty for a card of a print that the edition does not use
};

/// Reads runs of film frames, each print in its languages. Opens every file once.
class RunReader
{
public:
    RunReader (const OpenBook& book, std::string wanted)
        : open (book)
        , languages (std::move (wanted))
    {
    }

    Result<spotting::CardText> read (const CardRun& run)
    {
        const auto words = readerFor (*run.print);
        if (! words)
            return words.error();
        std::vector<film::GreyPicture> pictures;
        for (const auto frame : framesOf (run))
        {
            auto picture = pictureAt (*run.print, frame);
            if (! picture)
                return picture.error();
            pictures.push_back (std::move (*picture));
        }
        const auto found = (*words)->read (reading::stillOf (pictures));
        if (! found)
            return found.error();
        spotting::CardText text;
        text.text = found->text;
        text.print = run.print->id;
        text.language = (*words)->languages();
        text.sure = static_cast<int> (found->confidence * 1000 + 0.5);
        text.doubtful = found->doubtful;
        return text;
    }

private:
    /// The languages cards of that print were read in last; empty when they never were.
    [[nodiscard]] std::string lastLanguages (const std::string& print) const
    {
        std::string last;
        for (const auto& card : open.book.cards)
            for (const auto& text : card.texts)
                if (text.print == print && ! text.byHand && ! text.language.empty())
                    last = text.language;
        return last;
    }

    Result<reading::CardReader*> readerFor (const Print& print)
    {
        const std::string in = languages.empty() ? lastLanguages (print.id) : languages;
        auto found = readers.find (in);
        if (found == readers.end())
        {
            auto opened = reading::CardReader::open (in);
            // The languages of another machine need not be on this one.
            if (! opened && languages.empty() && ! in.empty())
                opened = reading::CardReader::open ("");
            if (! opened)
                return opened.error();
            found = readers.emplace (in, std::move (*opened)).first;
        }
        return &found->second;
    }

    /// A dozen pictures of the inner part of a run, where it has neither begun to fade nor to weave in.
    static std::vector<std::int64_t> framesOf (const CardRun& run)
    {
        constexpr std::int64_t most = 12;
        const auto count = run.end - run.first;
        const auto edge = count / 8;
        const auto inner = count - 2 * edge;
        std::vector<std::int64_t> frames;
        const auto wanted = std::min (most, inner);
        for (std::int64_t i = 0; i < wanted; ++i)
            frames.push_back (run.first + edge + (wanted > 1 ? i * (inner - 1) / (wanted - 1) : 0));
        return frames;
    }

    Result<film::GreyPicture> pictureAt (const Print& print, std::int64_t filmFrame)
    {
        const auto at = film::reelFrameOf (print, filmFrame);
        if (! at)
            return at.error();
        const auto path = filmPathForPictures (open, print.reels[at->reel]);
        auto& film = films[path];
        if (! film)
        {
            auto opened = media::FrameReader::open (path);
            if (! opened)
                return opened.error();
            film = std::move (*opened);
        }
        // Letters of cards are large: no more than this is needed.
        constexpr int widest = 1280;
        const auto& info = film->info();
        const int width = std::min (widest, info.width);
        const int height =
            std::max (1, static_cast<int> (static_cast<std::int64_t> (info.height) * width / std::max (1, info.width)));
        return film->greyFrame (at->fileFrame, width, height);
    }

    const OpenBook& open;
    std::string languages;
    std::map<std::string, reading::CardReader> readers;
    std::map<std::string, std::unique_ptr<media::FrameReader>> films;
};

const Print* printOf (const spotting::Book& book, const std::string& id)
{
    const auto found = std::find_if (book.prints.begin(), book.prints.end(), [&] (const Print& print) { return print.id == id; });
    return found != book.prints.end() ? &*found : nullptr;
}

/// The photographed cards of an edition, each shot once.
std::vector<CardRun> runsOf (const spotting::Book& book, const film::Edition& edition, const std::set<std::string>& wanted,
                             const std::string& print, bool again)
{
    std::vector<CardRun> runs;
    std::set<std::string> seen;
    for (const Shot& shot : edition.shots)
        if (shot.kind == film::ShotKind::card && ! shot.made && (wanted.empty() || wanted.count (shot.id) > 0)
            && (print.empty() || shot.print == print) && (again || shot.wording.empty()) && seen.insert (shot.id).second)
            if (const Print* of = printOf (book, shot.print))
                runs.push_back ({ of, shot.first, shot.end, shot.id });
    return runs;
}

Result<std::vector<spotting::CardText>> readAll (RunReader& reader, const std::vector<CardRun>& runs, const Progress& progress)
{
    std::vector<spotting::CardText> texts;
    for (std::size_t i = 0; i < runs.size(); ++i)
    {
        if (progress && ! progress (static_cast<double> (i) / static_cast<double> (runs.size()), "reading cards"))
            return Error{ ErrorCode::cancelled, "cards", "reading was stopped; nothing was changed" };
        auto text = reader.read (runs[i]);
        if (! text)
            return text.error();
        texts.push_back (std::move (*text));
    }
    if (progress)
        (void)progress (1, "reading cards");
    return texts;
}

Result<CardsDone> taken (const spotting::Book& book, const std::vector<spotting::CardReading>& readings,
                         std::vector<std::string> notes)
{
    auto with = spotting::withReadings (book, readings);
    if (! with)
        return with.error();
    CardsDone done;
    done.book = std::move (with->book);
    done.read = static_cast<int> (readings.size());
    done.taken = with->taken;
    done.kept = with->kept;
    done.doubtful = with->doubtful;
    done.notes = std::move (notes);
    return done;
}

/// Cards of a print that the edition does not use, laid beside the edition's.
Result<CardsDone> readOther (const OpenBook& open, const film::Edition& edition, const Print& print, RunReader& reader,
                             const Progress& progress)
{
    std::vector<CardRun> runs;
    for (const auto& shot : print.scanned)
        if (shot.kind == film::ShotKind::card)
            runs.push_back ({ &print, shot.first, shot.end, "" });
    if (runs.empty())
        return usageError ("print " + print.name, "the scan found no cards in it");
    auto texts = readAll (reader, runs, progress);
    if (! texts)
        return texts.error();

    std::vector<const Shot*> cards;
    std::set<std::string> seen;
    std::vector<std::string> own, other;
    for (const Shot& shot : edition.shots)
        if (shot.kind == film::ShotKind::card && seen.insert (shot.id).second)
        {
            cards.push_back (&shot);
            own.push_back (shot.wording);
        }
    for (const auto& text : *texts)
        other.push_back (text.text);
    auto beside = laidBeside (own, other);
    std::vector<std::string> notes;
    const auto alike = std::count_if (beside.begin(), beside.end(), [] (const auto& at) { return at.has_value(); });
    const bool byOrder = alike * 2 < static_cast<std::ptrdiff_t> (beside.size()) && own.size() == other.size();
    if (byOrder)
    {
        for (std::size_t i = 0; i < beside.size(); ++i)
            beside[i] = i;
        notes.push_back ("the cards of " + print.name + " say other things than those of edition " + edition.letter
                         + " (another language?); there are as many, so they were laid beside one another in their order: look at "
                           "each");
    }
    std::vector<spotting::CardReading> readings;
    for (std::size_t i = 0; i < beside.size(); ++i)
    {
        auto& text = (*texts)[i];
        if (! beside[i])
        {
            notes.push_back ("no card of edition " + edition.letter + " says what " + print.name + " says at its film frame "
                             + std::to_string (runs[i].first) + ": \"" + spotting::onOneLine (text.text) + "\"");
            continue;
        }
        text.doubtful = text.doubtful || byOrder;
        readings.push_back ({ cards[*beside[i]]->id, std::move (text) });
    }
    return taken (open.book, readings, std::move (notes));
}
} // namespace

Result<CardsDone> readCards (const OpenBook& open, const CardsWanted& wanted, const Progress& progress)
{
    const auto letter = wanted.edition.empty() ? open.book.edition : wanted.edition;
    const auto* edition = spotting::editionOf (open.book, letter);
    if (edition == nullptr)
        return usageError ("edition " + letter, "the book does not have it");
    std::set<std::string> shots;
    for (const auto& name : wanted.cards)
    {
        const auto id = spotting::shotNamed (*edition, name);
        if (! id)
            return id.error();
        shots.insert (*id);
    }
    std::string print;
    if (! wanted.print.empty())
    {
        const auto id = printNamed (open.book, wanted.print);
        if (! id)
            return id.error();
        print = *id;
    }
    RunReader reader (open, wanted.languages);
    const bool used = print.empty()
                      || std::any_of (edition->shots.begin(), edition->shots.end(),
                                      [&] (const Shot& shot) { return ! shot.made && shot.print == print; });
    if (! used)
        return readOther (open, *edition, *printOf (open.book, print), reader, progress);

    const auto runs = runsOf (open.book, *edition, shots, print, wanted.again);
    if (runs.empty())
        return usageError ("cards", "there is none to read: no photographed card of edition " + letter + " fits what was asked");
    auto texts = readAll (reader, runs, progress);
    if (! texts)
        return texts.error();
    std::vector<spotting::CardReading> readings;
    std::vector<std::string> notes;
    for (std::size_t i = 0; i < runs.size(); ++i)
    {
        if ((*texts)[i].text.empty())
            notes.push_back ("nothing could be read on card "
                             + std::find_if (edition->shots.begin(), edition->shots.end(),
                                             [&] (const Shot& shot) { return shot.id == runs[i].shot; })
                                   ->name);
        readings.push_back ({ runs[i].shot, std::move ((*texts)[i]) });
    }
    return taken (open.book, readings, std::move (notes));
}
} // namespace shutterbeat::desk
