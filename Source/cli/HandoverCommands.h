#pragma once

#include "cli/Command.h"

namespace shutterbeat::cli
{
/// The verbs of what leaves the bench and what comes back, added as those of Command.h are.
void addMixdown (CLI::App& app, Action& chosen);
void addChapters (CLI::App& app, Action& chosen);
void addPage (CLI::App& app, Action& chosen);
void addParcel (CLI::App& app, Action& chosen);
void addReturned (CLI::App& app, Action& chosen);
void addRevisions (CLI::App& app, Action& chosen);
void addMerge (CLI::App& app, Action& chosen);
} // namespace shutterbeat::cli
