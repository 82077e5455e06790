#pragma once

#include "desk/Autosave.h"
#include "desk/OpenBook.h"
#include "desk/Progress.h"
#include "overlay/ConductorMarks.h"
#include "play/FrameKey.h"
#include "play/ScreenLog.h"
#include "play/TapCalibration.h"
#include "play/Transport.h"
#include "spotting/History.h"
#include "spotting/Times.h"
#include "window/CutsDesk.h"
#include "window/HandOverDesk.h"
#include "window/HitDrag.h"
#include "window/ImportDesk.h"
#include "window/Job.h"
#include "window/LineUpDesk.h"
#include "window/ListFilter.h"
#include "window/LiveDesk.h"
#include "window/Message.h"
#include "window/OverlayWish.h"
#include "window/ParcelDesk.h"
#include "window/RecutDesk.h"
#include "window/Runner.h"
#include "window/SoundOutlines.h"
#include "window/SoundWish.h"
#include "window/SpeedsDesk.h"
#include "window/TempoDesk.h"

#include <atomic>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::window
{
/// What stands in the ledger's place.
enum class Panel
{
    ledger,
    openBook,
    newBook,
    findFilm,
    goTo,
    playSpeed,
    shotSource,
    taps,
    sound,
    saveAs,
    question,
    history,
    importList,
    actions
};

/// Which part of the work the ledger shows.
enum class LedgerPage
{
    hits,
    cues,
    film,     ///< shots, cards, cuts
    speeds,   ///< running speeds along the film
    prints,   ///< prints and their reels
    tempo,    ///< one tempo for a cue's hits
    recut,    ///< old and new edition
    lineUp,   ///< recorded music against the picture
    handOver, ///< sheets, lists and files for others
    parcel    ///< all that one person needs
};

/// How the ledger's hits are sorted.
enum class HitOrder
{
    time,
    label,
    kind,
    weight
};

/// Everything the window shows and does, without a single widget: the book and its history, the transport, what is
/// selected, what is said. Window thread only. Every change calls onChanged.
class Bench
{
public:
    Bench (const play::Clock& clock, Runner& runner, std::string person);

    std::function<void()> onChanged;
    std::function<void()> onQuit;            ///< the window may close now
    std::function<void()> onRename;          ///< the selected hit or cue is to be named in place
    std::function<void()> onNote;            ///< a note on what is selected is to be typed
    std::function<void()> onFind;            ///< the list in the ledger is to be searched
    std::function<void()> onTakeKeys;        ///< what had the keyboard gives it back to the transport
    std::function<void()> onCommand;         ///< theme, scale or zoom was asked for; see the fields below
    std::function<void (bool)> onBookOpened; ///< true: another book; false: the same with other films

    /// What is shown has changed: whoever shows it looks again.
    void changed();
    /// What had the keyboard gives it back to the transport.
    void giveKeysBack();

    // The book
    [[nodiscard]] bool hasBook() const { return history.has_value(); }
    [[nodiscard]] const spotting::Book& book() const { return history->book(); }
    [[nodiscard]] const spotting::BookTimes* times() const { return bookTimes.get(); }
    [[nodiscard]] const std::string& path() const { return open.path; }
    [[nodiscard]] bool dirty() const;
    [[nodiscard]] const std::vector<desk::MissingFilm>& missing() const { return missingFilms; }
    [[nodiscard]] const play::FilmFiles& files() const { return filmFiles; }

    /// Reads the book, its times and its films away from the window; what is open stays until all is there. Then `then`.
    void openPath (const std::string& path, std::function<void()> then = {});
    /// Writes away from the window. Says what stands in the way; calls `then` when the book as it was at the call is saved.
    void save (std::function<void()> then = {});
    void saveAs (const std::string& path);
    /// True while a book is being read or written.
    [[nodiscard]] bool atDisk() const { return diskWork > 0; }
    void startNewBook (const desk::NewBook& wanted, const std::string& bookPath);
    void cancelJob();
    /// Runs long work away from the window, which shows how far it is and can stop it; `taken` gets what came of it, on the
    /// window's thread. What went wrong is said, and `stopped` where the user stopped it. One at a time: while another goes on
    /// nothing begins, and that is said.
    template <class T>
    void startJob (const std::string& what, std::function<Result<T> (const desk::Progress&)> work, std::function<void (T)> taken,
                   const std::string& stopped)
    {
        if (job)
            return complain ("\"" + job->what + "\" still goes on. Wait for it, or stop it.");
        job = std::make_shared<Job>();
        job->what = what;
        const auto outcome = std::make_shared<std::optional<Result<T>>>();
        runner.run (
            [mine = job, outcome, work = std::move (work)]
            {
                outcome->emplace (work (
                    [mine] (double fraction, const std::string&)
                    {
                        mine->fraction = fraction;
                        return ! mine->cancelled;
                    }));
            },
            [this, outcome, stopped, taken = std::move (taken)]
            {
                job.reset();
                if ((*outcome)->ok())
                    taken (std::move (***outcome));
                else
                    jobFailed ((*outcome)->error(), stopped);
                changed();
            });
        changed();
    }
    /// The short word that what is added here is counted under.
    [[nodiscard]] const std::string& whoIsHere() const { return person; }
    /// The book as it is now, with where it lies: what desk works on.
    [[nodiscard]] desk::OpenBook opened() const;
    /// Takes an edited book as one step that can be undone.
    void take (const std::string& name, Result<spotting::Book> edited);
    /// A folder is looked through for all films that are missing.
    void relinkMissing (std::size_t which, const std::string& newPath);
    /// Keeps edits that are not saved yet, a few seconds after they were made; to be called at every tick.
    void keepEdits();
    /// Asks about unsaved work first; then calls `go`.
    void beforeLeaving (const std::string& what, std::function<void()> go);
    void quit();

    // History
    [[nodiscard]] const spotting::History* steps() const { return history ? &*history : nullptr; }
    void undo();
    void redo();
    /// Undoes or does again until the history stands at this step.
    void goToStep (std::size_t step);

    // Places and playing
    play::Transport transport;
    /// Why nothing is heard; empty while a sound device runs.
    std::string noSound = "no sound device is open; the film runs by a silent clock";
    std::vector<std::string> soundDevices;
    std::string codeNote;          ///< what is to be known of the timecode that is sent; empty: nothing
    std::function<void()> onSound; ///< the wish below has changed
    [[nodiscard]] const SoundWish& soundWish() const { return theSoundWish; }
    /// Kept within its limits.
    void setSound (const SoundWish& wish);
    /// What `onSound` does not hear of: settings read at the start.
    void startSound (const SoundWish& wish) { theSoundWish = wish; }
    void inBackground (std::function<void()> work, std::function<void()> then) { runner.run (std::move (work), std::move (then)); }
    /// Reads the clock; true when another picture is to be shown.
    bool tick();
    /// The picture to show: of a drag while there is one, else the transport's.
    [[nodiscard]] const film::Position& shown() const { return drag && drag->moved ? drag->at : transport.position(); }
    /// What the transport shows has been put on the screen at this moment. Until it is called for the first time, tick()
    /// counts as that.
    void paintedNow();
    void goTo (const film::Position& position);
    /// A typed place, or with a sign before it an offset from here: "+24" film frames, "-1.5s" seconds.
    void goToTyped (const std::string& text);
    [[nodiscard]] std::vector<film::Position> cutPositions() const;
    [[nodiscard]] std::vector<film::Position> cardPositions() const;
    [[nodiscard]] std::vector<film::Position> cuePositions() const;
    void step (std::int64_t filmFrames);
    void toNext (const std::vector<film::Position>& stops, const char* what);
    void toPrevious (const std::vector<film::Position>& stops, const char* what);
    /// To the next (1) or previous (-1) hit, which becomes the selected one.
    void toHit (int direction);
    void shuttle (int direction);
    /// A key is held (1, -1) or let go (0).
    void crawl (int direction);
    [[nodiscard]] int crawling() const { return crawlDirection; }
    /// As delivered, at the book's speeds, at the one speed; and round again.
    void nextPace();
    /// Plays at one speed from now on, typed as running speeds are.
    void paceTyped (const std::string& text);
    void nextPreRoll();
    int preRollBars = 0; ///< the pre-roll in bars of the cue at hand, counted from the bar it stands in; 0: in seconds
    void playFromBefore();
    /// The loop begins at the picture on screen, or ends with it.
    void loopBegin();
    void loopEnd();
    /// Off when on; else over the selected cue or hits, the stretch marked before, or the cue at the picture on screen.
    void toggleLoop();
    void setLoop (const play::Range& range);
    /// The marked begin of a loop that has no end yet.
    std::optional<film::Position> loopPending;
    /// "as delivered", "at 18 film frames a second", "twice the speed, back", "loop": what is unusual about how it runs.
    [[nodiscard]] std::string runningText() const;

    // Hits and cues
    [[nodiscard]] const std::vector<std::string>& selected() const;
    [[nodiscard]] bool isSelected (const std::string& id) const;
    void select (std::vector<std::string> ids);
    void toggleSelected (const std::string& id);
    /// A hit at the picture that was on screen when the key went down, corrected by the calibration; at the one on screen
    /// while the film stands.
    void tapHit();
    /// When the key that is being answered went down (nanoseconds of the machine's clock); none: now.
    std::optional<std::int64_t> keyDown;
    /// How late this person taps (below zero: early), nanoseconds; taken from every tap while playing.
    std::int64_t tapLate = 0;
    void setTapLate (std::int64_t nanoseconds);
    /// The film's second, over all reels, at which the key went down: to within a tick of the window.
    [[nodiscard]] double tapSeconds() const;
    /// The calibration under way, while its panel stands.
    std::optional<play::TapCalibration> calibration;
    std::int64_t calibrationStart = 0;
    void startCalibration();
    void calibrationTap();
    static constexpr std::int64_t calibrationInterval = 1'000'000'000; ///< nanoseconds between two beats
    [[nodiscard]] std::int64_t machineNow() const { return machine.nanoseconds(); }
    void removeSelected();
    void rename (const std::string& id, const std::string& label);
    void cycleKind();
    void cycleWeight();
    void toggleAgreed();
    /// Changes every selected hit, or cue, as one step.
    void editHits (const std::string& name, const std::function<void (spotting::HitPoint&)>& change);
    void editCues (const std::string& name, const std::function<void (spotting::Cue&)>& change);
    void cycleCueKind();
    void cycleCueStatus();
    /// Who asked for the selected hits: the next of the book's people.
    void nextAskedBy();
    /// Moves the selected hits by film frames, as one step.
    void nudge (std::int64_t filmFrames);
    void proposeHits();
    void cueIn();
    void cueOut();
    void putInCue();

    /// Takes a hit in the hand; nothing is written until dropDrag().
    void beginDrag (const std::string& hit);
    /// `snapped` names what the drag has caught on.
    void dragTo (const film::Position& position, const std::string& snapped = {});
    /// One step when it has moved, none when not.
    void dropDrag();
    void cancelDrag();
    std::optional<HitDrag> drag;

    /// One tempo for a cue's hits: what is being tried, before anything is written.
    TempoDesk tempo{ *this };
    CutsDesk cuts{ *this };
    SpeedsDesk speeds{ *this };
    RecutDesk recut{ *this };
    LineUpDesk lineUp{ *this };
    SoundOutlines outlines{ *this };
    HandOverDesk handOver{ *this };
    ParcelDesk parcels{ *this };
    ImportDesk lists{ *this };
    LiveDesk live{ *this };

    // Delivery
    void setRate (const time::Rate& rate);
    void setFill (const std::optional<time::Rational>& from);
    void setSpeed (const time::Rational& speed);

    // What is said and shown
    Message message;
    void say (std::string text);
    void complain (std::string text);
    void putMessageAway();
    std::optional<Question> question;
    void ask (Question asked);
    void answer (std::size_t choice);
    Panel panel = Panel::ledger;
    void showPanel (Panel shown);
    LedgerPage page = LedgerPage::hits;
    void showPage (LedgerPage shown);
    HitOrder order = HitOrder::time;
    ListFilter filter; ///< of the lists of hits and cues
    /// Indices into times()->hits in the order asked for.
    [[nodiscard]] std::vector<std::size_t> hitRows() const;
    std::shared_ptr<Job> job;

    // Settings of the window itself; onCommand is called after a change
    bool day = false;
    int scalePercent = 100;
    double bandZoom = 1; ///< 1: the whole film
    void setDay (bool on);
    void setScale (int percent);
    void zoom (double factor);
    bool wholePicture = false; ///< the picture alone, on the whole screen
    void setWholePicture (bool on);
    bool pictureApart = false; ///< the picture once more, in a window of its own on another screen
    void setPictureApart (bool on);
    bool lessMotion = false; ///< nothing swings or slides but the film itself
    void setLessMotion (bool on);

    // Over the picture
    [[nodiscard]] const OverlayWish& overlay() const { return theOverlay; }
    /// Marks for the conductor are asked about first, until the caution was read.
    void setOverlay (const OverlayWish& wish);
    bool cautionRead = false;
    /// Which delivered frame over all reels shows which marks.
    const overlay::MarkPlan& markPlan();

private:
    void did (const std::string& name, spotting::Book book, std::vector<std::string> selection);
    void recompute();
    /// All that is worked out of a book before it can be shown; made away from the window.
    struct Fetched
    {
        desk::OpenBook open;
        std::vector<desk::MissingFilm> missing;
        Result<spotting::BookTimes> times;
        std::optional<desk::KeptEdits> kept;
    };
    static Fetched fetched (desk::OpenBook open);
    void findMissingIn (const std::string& folder);
    void filmsChanged (std::vector<desk::MissingFilm> missing, bool another);
    void take (Fetched fetched, bool saved);
    void askSpeed (desk::MadeBook made);
    void takeNew (desk::OpenBook open, const std::string& said);
    /// Runs work that reads or writes files elsewhere, then what follows here.
    void atTheDisk (std::function<void()> work, std::function<void()> then);
    void useTimes (spotting::BookTimes times);
    void tellConflict();
    void offerKept (desk::KeptEdits found);
    void dropKept();
    void jobFailed (const Error& error, const std::string& stopped);
    bool needFilm();
    [[nodiscard]] std::optional<time::Rational> barsBefore (int bars) const;
    [[nodiscard]] film::Place keptPlace (spotting::HitKind kind, const film::Position& position) const;
    [[nodiscard]] std::string whereText (const film::Position& position) const;

    const play::Clock& machine; ///< the machine's own clock, which keys are timed by
    Runner& runner;
    std::string person;
    int diskWork = 0;
    bool saving = false;
    std::vector<std::function<void()>> saveAgain; ///< asked for while one was being written
    int opening = 0;                              ///< counts what was asked to be opened: only the last is taken
    play::ScreenLog screen;
    SoundWish theSoundWish;
    OverlayWish theOverlay;
    std::optional<overlay::MarkPlan> plan; ///< none: to be worked out anew
    bool planned();
    bool paintTells = false;
    int crawlDirection = 0;
    time::Rational oneSpeed{ 18 };
    desk::OpenBook open; ///< path and stamp; its book is the one last saved or opened
    bool everSaved = false;
    std::optional<spotting::Book> bookSeen, bookKept; ///< as it was last seen, and as it was last kept, by keepEdits()
    std::int64_t keptChanged = 0, keptSince = 0, keptNext = 0;
    bool keeping = false, keptSomething = false, keptFailed = false;
    std::optional<spotting::History> history;
    std::unique_ptr<spotting::BookTimes> bookTimes;
    std::shared_ptr<const film::Timings> timings;
    spotting::Book timed; ///< the book that `timings` was made from
    std::vector<desk::MissingFilm> missingFilms;
    play::FilmFiles filmFiles;
};

/// "18", "20": the usual running speeds as they are offered, oldest practice first.
const std::vector<time::Rational>& usualSpeeds();
/// The final rates as they are offered.
const std::vector<std::string>& usualRates();
} // namespace shutterbeat::window
