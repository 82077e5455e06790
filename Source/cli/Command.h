#pragma once

#include "cli/Cli.h"
#include "desk/OpenBook.h"
#include "spotting/Times.h"

#include <CLI/CLI.hpp>

#include <functional>
#include <optional>
#include <ostream>
#include <string>
#include <vector>

namespace shutterbeat::cli
{
/// Where a command writes, and how it tells what goes on.
struct Console
{
    std::ostream& out;
    std::ostream& err;

    /// One line a note, on err.
    void notes (const std::vector<std::string>& lines) const;
    /// "error: where: what", and the exit status for it.
    int fail (const Error& error) const;
    /// A progress function that tells err and heeds stop().
    [[nodiscard]] desk::Progress progress() const;
};

/// What a chosen command does after its words were read; gives the exit status.
using Action = std::function<int (const Console&)>;

/// Each adds one verb with its options and an example to `app`; the chosen one's action goes to `chosen`.
void addScan (CLI::App& app, Action& chosen);
void addStill (CLI::App& app, Action& chosen);
void addNew (CLI::App& app, Action& chosen);
void addRelink (CLI::App& app, Action& chosen);
void addProxy (CLI::App& app, Action& chosen);
void addRender (CLI::App& app, Action& chosen);
void addPrints (CLI::App& app, Action& chosen);
void addRecut (CLI::App& app, Action& chosen);
void addCompare (CLI::App& app, Action& chosen);
void addShots (CLI::App& app, Action& chosen);
void addCards (CLI::App& app, Action& chosen);
void addSpeeds (CLI::App& app, Action& chosen);
void addHits (CLI::App& app, Action& chosen);
void addCues (CLI::App& app, Action& chosen);
void addSounds (CLI::App& app, Action& chosen);
void addLineUp (CLI::App& app, Action& chosen);
void addTimes (CLI::App& app, Action& chosen);
void addTempo (CLI::App& app, Action& chosen);
void addFit (CLI::App& app, Action& chosen);
void addClick (CLI::App& app, Action& chosen);
void addExport (CLI::App& app, Action& chosen);
void addImport (CLI::App& app, Action& chosen);
void addWorks (CLI::App& app, Action& chosen);
void addDoctor (CLI::App& app, Action& chosen);

/// Options that lay other settings over a book's own, as typed.
struct AskedWords
{
    std::string running, rate, fill, edition;

    void addTo (CLI::App& command);
    /// Error: a word that does not exist; notes get what was not taken to the letter.
    [[nodiscard]] Result<spotting::Asked> read (std::vector<std::string>& notes) const;
};

/// Says which films of the book are missing or changed, and what to do; times are still right without them.
void sayMissingFilms (const Console& console, const desk::OpenBook& open);

/// A book and its times as asked.
struct TimedBook
{
    desk::OpenBook open;
    spotting::BookTimes times;
};

/// Opens a book and works out its times with what was asked laid over it; says every note. Error: as those.
Result<TimedBook> timedBook (const Console& console, const std::string& path, const AskedWords& words);

/// Opens, edits and saves a book in one go; nothing is written when `edit` fails.
int editBook (const Console& console, const std::string& path,
              const std::function<Result<spotting::Book> (const desk::OpenBook&)>& edit);
} // namespace shutterbeat::cli
