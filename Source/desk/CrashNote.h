#pragma once

#include <optional>
#include <string>

namespace shutterbeat::desk
{
/// From now on a crash of this program (a fault of memory or arithmetic, an abort) leaves crash.txt in the state folder: when it
/// was, the signal, and where the autosave lies. Then it ends as it would have. Call it once, early.
void leaveNoteOnCrash();

/// What the note says of the autosave; empty: that there is none and the book is as it was last saved. Any thread, any time; the
/// path is cut at 4000 bytes.
void nameAutosave (const std::string& path);

/// The note of the last crash, if one was left since it was last taken; taking it removes it.
std::optional<std::string> takeCrashNote();
} // namespace shutterbeat::desk
