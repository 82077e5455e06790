#include "window/ActionsOfSound.h"

#include "desk/CueClick.h"

namespace shutterbeat::window
{
namespace
{
void playedActions (std::vector<Action>& all)
{
    all.push_back ({ "sound.panel",
                     "Play",
                     "Sound device, gain and offset...",
                     "D",
                     [] (Bench& b) { b.showPanel (Panel::sound); },
                     {},
                     {},
                     {} });
    all.push_back ({ "sound.mute",
                     "Play",
                     "Mute",
                     "M",
                     [] (Bench& b)
                     {
                         auto wish = b.soundWish();
                         wish.muted = ! wish.muted;
                         b.setSound (wish);
                     },
                     {},
                     [] (const Bench& b) { return b.soundWish().muted; },
                     {} });
    all.push_back ({ "sound.click",
                     "Play",
                     "Click of the cues' tempos",
                     "Shift+M",
                     [] (Bench& b)
                     {
                         auto wish = b.soundWish();
                         wish.click = ! wish.click;
                         b.setSound (wish);
                         b.say (wish.click ? "Click on, with four free clicks before each cue. " + desk::clickCaution()
                                           : std::string ("Click off."));
                     },
                     {},
                     [] (const Bench& b) { return b.soundWish().click; },
                     {} });
}

void codeActions (std::vector<Action>& all)
{
    const auto add = [&] (const char* id, const char* name, const char* key, bool SoundWish::*part, const char* on)
    {
        all.push_back ({ id,
                         "Play",
                         name,
                         key,
                         [part, on] (Bench& b)
                         {
                             auto wish = b.soundWish();
                             wish.*part = ! (wish.*part);
                             b.setSound (wish);
                             b.say (wish.*part ? on : "No timecode goes out there any more.");
                         },
                         {},
                         [part] (const Bench& b) { return b.soundWish().*part; },
                         {} });
    };
    add ("sound.midiCode", "Send MIDI time code", "Alt+9", &SoundWish::midiCode,
         "MIDI time code goes out while the film plays as delivered.");
    add ("sound.linearCode", "Linear timecode on the right channel", "Alt+0", &SoundWish::linearCode,
         "The right channel is linear timecode now, the left all sound. Keep it out of headphones.");
}
} // namespace

void addSoundActions (std::vector<Action>& all)
{
    playedActions (all);
    codeActions (all);
}
} // namespace shutterbeat::window
