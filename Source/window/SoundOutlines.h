#pragma once

#include "desk/LineUpSound.h"
#include "spotting/Sound.h"

#include <atomic>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::window
{
class Bench;

/// The waveform and the onsets of every sound in the book, as the band draws them. Listened to one after the other, away from the
/// window; a sound that is only placed otherwise is not listened to again. Window thread only.
class SoundOutlines
{
public:
    explicit SoundOutlines (Bench& owner)
        : bench (owner)
    {
    }
    ~SoundOutlines() { *given = true; }

    static constexpr int quietest = 300; ///< what is softer than this all along is drawn small
    /// What is known of a sound: pieces in order of time, each half an hour at most.
    struct Outline
    {
        std::vector<desk::HeardSound> pieces;
        int loudest = quietest; ///< 32767 is full scale: soft music is drawn as large as loud, silence is not
        std::string failure;    ///< why it can't be listened to; empty: it can
    };
    /// Listens to sounds that are not known yet, and forgets those the book no longer has.
    void refresh();
    /// Null while it has not been listened to.
    [[nodiscard]] const Outline* of (const spotting::Sound& sound) const;

private:
    void listen (const std::string& key, const std::string& path);

    Bench& bench;
    std::map<std::string, Outline> known; ///< by file and identity
    bool listening = false;
    std::shared_ptr<std::atomic<bool>> given = std::make_shared<std::atomic<bool>> (false); ///< up: nobody waits for it any more
};
} // namespace shutterbeat::window
