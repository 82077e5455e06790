#include "play/Showing.h"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace shutterbeat::play
{
namespace
{
constexpr double raggedTap = .08;       // seconds, one standard deviation
constexpr double raggedStart = .2;      // of the key for a reel's first picture
constexpr double speedUnknown = .04;    // at the start, as a part of the planned speed
constexpr double nearEnough = 1.0;      // seconds within which a tap may belong to a card or cut
constexpr double deviationsAllowed = 4; // or as many standard deviations of what is foretold

std::string lowered (const std::string& text)
{
    std::string out = text;
    for (char& c : out)
        if (static_cast<unsigned char> (c) < 128)
            c = static_cast<char> (std::tolower (static_cast<unsigned char> (c)));
    return out;
}

bool hasWordWith (const std::string& words, const std::string& letters)
{
    for (std::size_t i = words.find (letters); i != std::string::npos; i = words.find (letters, i + 1))
        if (i == 0
            || (static_cast<unsigned char> (words[i - 1]) < 128 && std::isalnum (static_cast<unsigned char> (words[i - 1])) == 0))
            return true;
    return false;
}
} // namespace

Result<Showing> Showing::of (std::vector<ShowShot> shots, std::vector<ShowEvent> events)
{
    if (shots.empty())
        return usageError ("showing", "there is no shot to be shown");
    for (std::size_t i = 0; i < shots.size(); ++i)
        if (! (shots[i].seconds > 0) || ! std::isfinite (shots[i].seconds))
            return usageError ("shot " + std::to_string (i + 1), "has no length");
    for (const auto& event : events)
        if (event.shot >= shots.size() || ! std::isfinite (event.into))
            return usageError (event.label, "lies in no shot of the film");
    Showing made;
    made.shots = std::move (shots);
    made.events = std::move (events);
    made.lacks.assign (made.shots.size(), false);
    made.lay();
    std::stable_sort (made.events.begin(), made.events.end(),
                      [&] (const ShowEvent& a, const ShowEvent& b)
                      { return made.starts[a.shot] + a.into < made.starts[b.shot] + b.into; });
    return made;
}

void Showing::lay()
{
    starts.assign (shots.size() + 1, 0);
    for (std::size_t i = 0; i < shots.size(); ++i)
        starts[i + 1] = starts[i] + (lacks[i] ? 0 : shots[i].seconds);
}

double Showing::reelStart (std::size_t which) const
{
    for (std::size_t i = 0; i < shots.size(); ++i)
        if (shots[i].reel == which)
            return starts[i];
    return starts.back();
}

double Showing::secondsOf (std::size_t event) const
{
    const auto& is = events[event];
    return starts[is.shot] + (lacks[is.shot] ? 0 : is.into);
}

// ---- What the player does

void Showing::predict (double clock)
{
    if (runs)
        film.advance (clock - at);
    at = std::max (at, clock);
}

void Showing::firstPicture (double clock)
{
    predict (clock);
    const bool before = tapCount > 0;
    runs = true;
    // A projector started again runs about as fast as it did.
    const double rateDoubt = before ? std::min (speedUnknown, std::hypot (film.rateDoubt(), speedUnknown / 2)) : speedUnknown;
    film.start (reelStart (reelAtHand), film.rate(), { raggedStart, rateDoubt });
    lastTapped.reset();
}

void Showing::reelOver (double clock)
{
    predict (clock);
    if (! runs)
        return;
    runs = false;
    if (reelAtHand + 1 < reelCount())
        ++reelAtHand;
    film.put (reelStart (reelAtHand), 0);
    lastTapped.reset();
}

std::optional<std::size_t> Showing::tap (double clock)
{
    if (! runs)
        return {};
    predict (clock);
    const double reach = std::max (nearEnough, deviationsAllowed * std::hypot (film.doubtAfter (0), raggedTap));
    std::optional<std::size_t> nearest;
    double least = 0;
    for (std::size_t i = 0; i < events.size(); ++i)
    {
        const bool visible = events[i].kind == ShowKind::card || events[i].kind == ShowKind::cut;
        if (! visible || struck (i) || shots[events[i].shot].reel != reelAtHand || (lastTapped && i <= *lastTapped))
            continue;
        // Cards are what is tapped most: of a card and a cut almost as near the card is meant.
        const double off = std::abs (secondsOf (i) - film.place()) + (events[i].kind == ShowKind::card ? 0 : raggedTap);
        if (off <= reach && (! nearest || off < least))
            nearest = i, least = off;
    }
    if (! nearest)
        return {};
    film.seen (secondsOf (*nearest), raggedTap);
    lastTapped = nearest;
    ++tapCount;
    return nearest;
}

void Showing::seen (std::size_t event, double clock, bool lacking)
{
    predict (clock);
    const auto from = shotAt (clock);
    if (lacking)
        for (std::size_t i = from + 1; i < events[event].shot; ++i)
            lacks[i] = true;
    if (lacks[events[event].shot])
        lacks[events[event].shot] = false;
    lay();
    runs = true;
    reelAtHand = shots[events[event].shot].reel;
    film.put (secondsOf (event), raggedTap);
    lastTapped = event;
    ++tapCount;
}

void Showing::strike (std::size_t shot, bool lacking)
{
    if (shot >= shots.size() || lacks[shot] == lacking)
        return;
    // What is on the screen stays there: only what lies round it moves.
    const auto here = static_cast<std::size_t> (
        std::max<std::ptrdiff_t> (0, std::upper_bound (starts.begin(), starts.end() - 1, film.place()) - starts.begin() - 1));
    const double into = film.place() - starts[here];
    lacks[shot] = lacking;
    lay();
    film.put (starts[here] + (lacks[here] ? 0 : into), film.doubtAfter (0));
}

// ---- What comes

double Showing::seconds (double clock) const
{
    return runs ? film.placeAfter (std::max (0.0, clock - at)) : film.place();
}

double Showing::unsure (double clock) const
{
    return film.doubtAfter (runs ? std::max (0.0, clock - at) : 0);
}

std::size_t Showing::shotAt (double clock) const
{
    if (shots.empty())
        return 0;
    const auto after = std::upper_bound (starts.begin(), starts.end() - 1, seconds (clock));
    return after == starts.begin() ? 0 : static_cast<std::size_t> (after - starts.begin()) - 1;
}

double Showing::until (std::size_t event, double clock) const
{
    return film.until (secondsOf (event)) - (runs ? std::max (0.0, clock - at) : 0.0);
}

std::vector<std::size_t> Showing::coming (double clock, std::size_t most) const
{
    std::vector<std::size_t> found;
    const double now = seconds (clock);
    for (std::size_t i = 0; i < events.size() && found.size() < most; ++i)
        if (! struck (i) && secondsOf (i) > now)
            found.push_back (i);
    return found;
}

std::optional<std::size_t> Showing::cueNow (double clock) const
{
    std::optional<std::size_t> in;
    const double now = seconds (clock);
    for (std::size_t i = 0; i < events.size() && secondsOf (i) <= now; ++i)
    {
        if (events[i].kind == ShowKind::cueIn)
            in = i;
        else if (events[i].kind == ShowKind::cueOut && in && events[*in].label == events[i].label)
            in.reset();
    }
    return in;
}

std::vector<std::size_t> Showing::cardsLike (const std::string& letters, double clock) const
{
    std::vector<std::size_t> later, earlier;
    const auto wanted = lowered (letters);
    if (wanted.empty())
        return {};
    const double now = seconds (clock);
    for (std::size_t i = 0; i < events.size(); ++i)
        if (events[i].kind == ShowKind::card && hasWordWith (lowered (shots[events[i].shot].words), wanted))
            (secondsOf (i) > now ? later : earlier).push_back (i);
    later.insert (later.end(), earlier.rbegin(), earlier.rend());
    return later;
}
} // namespace shutterbeat::play
