#include "window/BenchView.h"

#include "play/Reels.h"
#include "window/BandLayout.h"
#include "window/Keys.h"

#include <algorithm>
#include <cctype>

namespace shutterbeat::window
{
namespace
{
constexpr int headerHeight = 44, readoutHeight = 76, messageHeight = 32;
constexpr int tickMilliseconds = 8; // finer than a frame at 60 a second
constexpr std::int64_t nanosecondsInMs = 1'000'000;

/// As KeyWatch knows it; something it knows nothing of for other keys.
char letterOf (const juce::KeyPress& key)
{
    const int code = key.getKeyCode();
    return code >= 0 && code < 128 ? static_cast<char> (std::tolower (code)) : '\0';
}
} // namespace

BenchView::BenchView (Bench& theBench, Settings& theSettings)
    : bench (theBench)
    , settings (theSettings)
    , header (bench)
    , strip (bench, feed)
    , picture (bench, feed)
    , empty (bench)
    , readout (bench)
    , band (bench, feed)
    , ledger (bench, feed)
    , panel (bench, settings)
    , message (bench)
    , live (bench)
    , tooltips (this)
{
    setComponentID ("bench");
    setTitle ("Shutterbeat");
    setWantsKeyboardFocus (true);
    setOpaque (true);
    juce::LookAndFeel::setDefaultLookAndFeel (&look);
    for (auto* part : std::initializer_list<juce::Component*>{ &header, &strip, &picture, &empty, &readout, &band, &ledger, &panel,
                                                               &message, &live })
    {
        part->setMouseClickGrabsKeyboardFocus (false);
        addChildComponent (part);
    }
    bench.day = settings.day;
    bench.scalePercent = settings.scalePercent;
    bench.lessMotion = settings.lessMotion;
    bench.cautionRead = settings.cautionRead;
    bench.startSound (settings.sound);
    bench.tapLate = std::int64_t (settings.tapLateMs) * nanosecondsInMs;
    bench.onChanged = [this] { refresh(); };
    bench.onCommand = [this] { applySettings(); };
    bench.onRename = [this] { ledger.renameSelected(); };
    bench.onNote = [this] { ledger.noteOnSelected(); };
    bench.onFind = [this] { ledger.find(); };
    bench.onTakeKeys = [this] { grabKeyboardFocus(); };
    bench.onBookOpened = [this] (bool another)
    {
        feed.setFiles (bench.files().paths());
        picture.forget();
        if (apart != nullptr)
            apart->picture().forget();
        if (! another || bench.path().empty())
            return;
        auto& recent = settings.recent;
        recent.erase (std::remove (recent.begin(), recent.end(), bench.path()), recent.end());
        recent.insert (recent.begin(), bench.path());
        if (recent.size() > 8)
            recent.resize (8);
        saveSettings (settings);
    };
    feed.onArrived = [this]
    {
        if (picture.late())
            pictureChanged();
        strip.repaint();
        if (! bench.transport.playing())
            band.repaint();
    };
    applySettings();
    refresh();
    startTimer (tickMilliseconds);
}

BenchView::~BenchView()
{
    bench.onChanged = {};
    bench.onCommand = {};
    bench.onRename = {};
    bench.onNote = {};
    bench.onFind = {};
    bench.onTakeKeys = {};
    bench.onBookOpened = {};
    feed.onArrived = {};
    apart.reset();
    juce::LookAndFeel::setDefaultLookAndFeel (nullptr);
}

void BenchView::applySettings()
{
    settings.day = bench.day;
    settings.scalePercent = bench.scalePercent;
    settings.tapLateMs = static_cast<int> (bench.tapLate / nanosecondsInMs);
    settings.lessMotion = bench.lessMotion;
    settings.cautionRead = bench.cautionRead;
    settings.sound = bench.soundWish();
    useDay (bench.day);
    look.dress();
    const float scale = static_cast<float> (bench.scalePercent) / 100.0f;
    if (juce::Desktop::getInstance().getGlobalScaleFactor() != scale)
        juce::Desktop::getInstance().setGlobalScaleFactor (scale);
    saveSettings (settings);
    if (auto* window = getTopLevelComponent(); window != this)
    {
        window->sendLookAndFeelChange();
        auto& desktop = juce::Desktop::getInstance();
        const bool onWhole = desktop.getKioskModeComponent() == window;
        const bool whole = bench.wholePicture || bench.live.isOpen();
        if (whole != onWhole && isShowing())
        {
            desktop.setKioskModeComponent (whole ? window : nullptr, false);
            grabKeyboardFocus();
        }
    }
}

/// The picture in a window of its own comes and goes with the wish for it, and goes when there is no film.
void BenchView::showApart()
{
    const bool wanted = bench.pictureApart && bench.times() != nullptr && isShowing();
    if (wanted == (apart != nullptr))
        return;
    if (wanted)
    {
        apart = std::make_unique<PictureWindow> (bench, feed, *this);
        apart->onKey = [this] (const juce::KeyPress& key) { return keyPressed (key); };
    }
    else
    {
        // A click on its own closing button may have led here.
        juce::MessageManager::callAsync ([gone = std::shared_ptr<PictureWindow> (std::move (apart))] {});
        apart.reset();
        grabKeyboardFocus();
    }
    const auto covered = apart != nullptr ? apart->picture().pixelsCovered() : juce::Point<int>();
    picture.setAlso (covered.x, covered.y);
}

void BenchView::refresh()
{
    const bool film = bench.times() != nullptr;
    showApart();
    if (bench.live.isOpen() != liveSeen)
    {
        liveSeen = bench.live.isOpen();
        live.setVisible (liveSeen);
        live.setBounds (getLocalBounds());
        live.toFront (false);
        applySettings(); // which takes the whole screen, or gives it back
        grabKeyboardFocus();
    }
    const bool whole = film && bench.wholePicture; // the picture and nothing else
    strip.setVisible (film && ! whole);
    picture.setVisible (film);
    readout.setVisible (film && ! whole);
    empty.setVisible (! film);
    band.setVisible (film && ! whole);
    message.setVisible (! whole);
    header.setVisible (! whole);
    const bool list = bench.panel == Panel::ledger;
    const bool hadPanel = panel.isVisible();
    ledger.setVisible (list && film && ! whole);
    panel.setVisible (! list && ! whole);
    panel.refresh();
    if (list && hadPanel && isShowing())
        grabKeyboardFocus();
    header.refresh();
    band.refresh();
    ledger.refresh();
    message.refresh();
    message.setBounds (getLocalBounds().removeFromBottom (message.heightFor (getWidth())));
    const bool sounds = film && ! bench.book().sounds.empty();
    if (list != ledgerSeen || film != filmSeen || whole != wholeSeen || sounds != soundsSeen)
    {
        soundsSeen = sounds;
        wholeSeen = whole;
        ledgerSeen = list;
        filmSeen = film;
        resized();
    }
    wantShots();
    pictureChanged();
}

void BenchView::pictureChanged()
{
    picture.refresh();
    if (apart != nullptr)
        apart->picture().repaint();
    readout.refresh (picture.late());
    strip.refresh();
    band.moved();
    ledger.moved();
}

/// The middle picture of every shot, those around the one on screen first.
void BenchView::wantShots()
{
    const auto* times = bench.times();
    if (times == nullptr)
        return;
    const auto& shots = times->timings.edition().shots;
    std::vector<play::FrameKey> keys;
    constexpr std::size_t most = 400;
    const auto here = bench.shown().shot;
    for (std::size_t away = 0; away < shots.size() && keys.size() < most; ++away)
        for (const bool after : { true, false })
        {
            if ((! after && (away == 0 || away > here)) || (after && here + away >= shots.size()))
                continue;
            const std::size_t shot = after ? here + away : here - away;
            const auto head = times->timings.shotHead (shot);
            const auto at = shots[shot].made ? Result<film::Position> (head)
                                             : times->timings.atFilmFrame (head.filmFrame + shots[shot].frames() / 2, head.reel);
            if (at)
                if (const auto key = bench.files().keyAt (times->timings, *at))
                    keys.push_back (*key);
        }
    feed.wantSmall (std::move (keys));
}

void BenchView::timerCallback()
{
    lookAtKeys();
    const bool was = bench.transport.playing();
    const auto shot = bench.transport.position().shot;
    const bool another = bench.tick();
    if (onTick)
        onTick();
    bench.keepEdits();
    if (! another)
        return;
    pictureChanged();
    if (bench.transport.position().shot != shot && ! bench.transport.playing())
        wantShots();
    if (was != bench.transport.playing())
        refresh();
}

void BenchView::paint (juce::Graphics& g)
{
    g.fillAll (theme().ground);
}

void BenchView::resized()
{
    auto box = getLocalBounds();
    live.setBounds (box);
    if (bench.times() != nullptr && bench.wholePicture)
        return picture.setBounds (box);
    header.setBounds (box.removeFromTop (headerHeight));
    box.removeFromBottom (messageHeight);
    message.setBounds (getLocalBounds().removeFromBottom (message.heightFor (getWidth())));
    const bool film = bench.times() != nullptr;
    if (film)
    {
        band.setBounds (box.removeFromBottom (band::heightWith (soundsSeen)));
        box.removeFromBottom (8);
    }
    const int side = juce::jlimit (380, 560, juce::roundToInt (box.getWidth() * 0.335));
    auto right = box.removeFromRight (side);
    ledger.setBounds (right);
    panel.setBounds (right);
    if (! film)
        return empty.setBounds (bench.panel == Panel::ledger ? box.withRight (getWidth()) : box);
    box.removeFromRight (8);
    const int stripWidth = juce::jlimit (140, 200, juce::roundToInt (box.getHeight() * 0.24));
    readout.setBounds (box.removeFromBottom (readoutHeight));
    strip.setBounds (box.removeFromLeft (stripWidth));
    box.removeFromLeft (8);
    picture.setBounds (box);
}

bool BenchView::isDown (const juce::KeyPress& key) const
{
    return key.isCurrentlyDown() || keyWatch.isDown (letterOf (key));
}

bool BenchView::keyPressed (const juce::KeyPress& key)
{
    // A key that is held comes again and again.
    const auto press = keyWatch.takePress (letterOf (key));
    const bool again = ! press && key == lastKey && isDown (key);
    lastKey = key;
    if (bench.live.isOpen())
    {
        live.key (key, press, again);
        return true;
    }
    if (key == juce::KeyPress::escapeKey)
    {
        if (bench.drag)
            bench.cancelDrag();
        else if (bench.wholePicture)
            bench.setWholePicture (false);
        else if (bench.panel != Panel::ledger)
            bench.showPanel (Panel::ledger);
        else if (bench.message.kind != Message::Kind::none)
            bench.putMessageAway();
        else
            bench.select ({});
        grabKeyboardFocus();
        return true;
    }
    const auto* action = actionFor (key);
    if (action == nullptr)
        return false;
    const bool tap = action->id == "hit.tap" || action->id == "tempo.tap";
    const bool crawl = action->id == "play.crawlOn" || action->id == "play.crawlBack";
    if ((tap || crawl) && again)
        return true;
    if (crawl)
        crawlKey = key;
    if (tap)
        bench.keyDown = press;
    const bool done = perform (bench, *action);
    bench.keyDown.reset();
    return done;
}

bool BenchView::keyStateChanged (bool)
{
    lookAtKeys();
    return false;
}

/// Ends what lasts only while a key is held.
void BenchView::lookAtKeys()
{
    keyWatch.tick();
    if (lastKey.isValid() && ! isDown (lastKey))
        lastKey = {};
    if (crawlKey.isValid() && ! isDown (crawlKey))
    {
        crawlKey = {};
        bench.crawl (0);
    }
}

void BenchView::parentHierarchyChanged()
{
    auto* peer = getPeer();
    const auto window =
        peer == nullptr ? 0ul : static_cast<unsigned long> (reinterpret_cast<std::uintptr_t> (peer->getNativeHandle()));
    if (window == watched)
        return;
    watched = window;
    keyWatch.watch (window);
}

bool BenchView::isInterestedInFileDrag (const juce::StringArray& files)
{
    return files.size() == 1;
}

void BenchView::filesDropped (const juce::StringArray& files, int, int)
{
    const auto path = files[0].toStdString();
    if (files[0].endsWithIgnoreCase (".shutterbeat"))
        return bench.beforeLeaving ("open another", [this, path] { bench.openPath (path); });
    // A sound belongs to the film that is open.
    if (bench.times() != nullptr && files[0].containsChar ('.')
        && juce::StringArray ({ "wav", "aif", "aiff", "flac", "mp3", "m4a", "ogg", "opus", "w64", "rf64" })
               .contains (files[0].fromLastOccurrenceOf (".", false, false).toLowerCase()))
        return bench.lineUp.add (path);
    if (bench.times() != nullptr && ImportDesk::formatOf (path))
        return bench.lists.offer (path);
    bench.beforeLeaving ("make another",
                         [this, path]
                         {
                             bench.showPanel (Panel::newBook);
                             panel.offerPath (path);
                         });
}
} // namespace shutterbeat::window
