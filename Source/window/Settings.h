#pragma once

#include "window/SoundWish.h"

#include <string>
#include <vector>

namespace shutterbeat::window
{
/// What the window remembers from one day to the next, in the user's configuration folder.
struct Settings
{
    bool day = false;
    int scalePercent = 100;
    int width = 1280, height = 800;
    int tapLateMs = 0; ///< how late this person taps, in milliseconds; below zero: early
    SoundWish sound;
    bool lessMotion = false;
    bool cautionRead = false;        ///< about punches and flashes
    std::vector<std::string> recent; ///< books, newest first
};

/// The usual settings where none are kept or they can't be read.
Settings loadSettings();
/// Kept without a word: a window that can't remember its size works all the same.
void saveSettings (const Settings& settings);
} // namespace shutterbeat::window
