#include "cli/Cli.h"

#include "cli/HandoverCommands.h"

#include <algorithm>
#include <atomic>
#include <iostream>
#include <memory>

namespace shutterbeat::cli
{
namespace
{
std::atomic<bool> stopAsked{ false };

bool isVerb (const CLI::App& app, const std::string& word)
{
    const auto verbs = app.get_subcommands ([&] (const CLI::App* verb) { return verb->get_name() == word; });
    return ! verbs.empty();
}
} // namespace

void stop()
{
    stopAsked = true;
}

void Console::notes (const std::vector<std::string>& lines) const
{
    for (const auto& line : lines)
        err << "note: " << line << "\n";
}

int Console::fail (const Error& error) const
{
    err << "error: " << error.text() << "\n";
    switch (error.code)
    {
    case ErrorCode::unreadable:
        return unreadableInput;
    case ErrorCode::cannotWrite:
    case ErrorCode::conflict:
        return notWritten;
    case ErrorCode::cancelled:
        return found;
    case ErrorCode::usage:
    case ErrorCode::overflow:
        break;
    }
    return wrongUsage;
}

desk::Progress Console::progress() const
{
    auto last = std::make_shared<int> (-1);
    return [last, this] (double fraction, const std::string& what)
    {
        // A line a tenth: readable in a terminal and in a log alike.
        const int tenth = std::clamp (static_cast<int> (fraction * 10), 0, 10);
        if (tenth > *last)
        {
            *last = tenth;
            err << what << " " << tenth * 10 << " %\n" << std::flush;
        }
        return ! stopAsked.load();
    };
}

void AskedWords::addTo (CLI::App& command)
{
    command.add_option ("--running", running, "Running speed for the whole film: 18, 200/11, 80ft/min, 13min/1000ft");
    command.add_option ("--final", rate, "Final rate: 23.976, 24, 25, 29.97, 29.97df, 30, 48, 50, 59.94, 59.94df, 60 or n/d");
    command.add_option ("--fill", fill, "true (frames repeat or drop, duration kept) or from:RATE (frame for frame)");
    command.add_option ("--edition", edition, "Letter of the edition");
}

Result<spotting::Asked> AskedWords::read (std::vector<std::string>& notes) const
{
    spotting::Asked asked;
    if (! running.empty())
    {
        const auto speed = time::parseSpeed (running);
        if (! speed)
            return speed.error();
        asked.running = speed->value;
        if (! speed->note.empty())
            notes.push_back (speed->note);
    }
    if (! rate.empty())
    {
        const auto parsed = time::parseRate (rate);
        if (! parsed)
            return parsed.error();
        asked.rate = parsed->value;
        if (! parsed->note.empty())
            notes.push_back (parsed->note);
    }
    if (! fill.empty())
    {
        const auto parsed = film::parseFill (fill);
        if (! parsed)
            return parsed.error();
        asked.fill = *parsed;
    }
    if (! edition.empty())
        asked.edition = edition;
    return asked;
}

void sayMissingFilms (const Console& console, const desk::OpenBook& open)
{
    for (const auto& missing : desk::missingFilms (open))
        console.notes (
            { missing.path + ": " + missing.why + "; tell the book where it is with: shutterbeat relink " + open.path + " FILE" });
}

Result<TimedBook> timedBook (const Console& console, const std::string& path, const AskedWords& words)
{
    std::vector<std::string> notes;
    const auto asked = words.read (notes);
    if (! asked)
        return asked.error();
    auto open = desk::openBook (path);
    if (! open)
        return open.error();
    auto times = spotting::timesOf (open->book, *asked);
    if (! times)
        return times.error();
    console.notes (notes);
    console.notes (times->notes);
    return TimedBook{ std::move (*open), std::move (*times) };
}

int editBook (const Console& console, const std::string& path,
              const std::function<Result<spotting::Book> (const desk::OpenBook&)>& edit)
{
    auto open = desk::openBook (path);
    if (! open)
        return console.fail (open.error());
    auto changed = edit (*open);
    if (! changed)
        return console.fail (changed.error());
    open->book = std::move (*changed);
    const auto saved = desk::saveBook (*open);
    return saved ? static_cast<int> (done) : console.fail (saved.error());
}

int run (const std::vector<std::string>& words, std::ostream& out, std::ostream& err)
{
    stopAsked = false;
    const Console console{ out, err };
    try
    {
        CLI::App app ("Pins music to a silent film's pictures and works out every timing for the final frame rate.", "shutterbeat");
        app.require_subcommand (1);
        app.set_help_flag ("-h,--help", "Print this help");
        app.set_version_flag ("--version", "shutterbeat " SHUTTERBEAT_VERSION, "Print which version this is");
        app.footer ("Example: shutterbeat new film.shutterbeat reel1.mp4 --running 18 --final 25\n"
                    "Each command has its own --help with an example.\n"
                    "Exit status: 0 done, 1 a check found something or a decision is open, 2 wrong usage, 3 input unreadable, "
                    "4 cannot write.");
        Action chosen;
        addNew (app, chosen);
        addScan (app, chosen);
        addStill (app, chosen);
        addPrints (app, chosen);
        addRecut (app, chosen);
        addCompare (app, chosen);
        addShots (app, chosen);
        addCards (app, chosen);
        addSpeeds (app, chosen);
        addHits (app, chosen);
        addCues (app, chosen);
        addSounds (app, chosen);
        addLineUp (app, chosen);
        addTimes (app, chosen);
        addTempo (app, chosen);
        addFit (app, chosen);
        addClick (app, chosen);
        addWorks (app, chosen);
        addExport (app, chosen);
        addImport (app, chosen);
        addRelink (app, chosen);
        addProxy (app, chosen);
        addRender (app, chosen);
        addParcel (app, chosen);
        addReturned (app, chosen);
        addMixdown (app, chosen);
        addPage (app, chosen);
        addChapters (app, chosen);
        addRevisions (app, chosen);
        addMerge (app, chosen);
        addDoctor (app, chosen);
        if (! words.empty() && ! words[0].empty() && words[0][0] != '-' && ! isVerb (app, words[0]))
            return console.fail (usageError ("\"" + words[0] + "\"", "is not a command; see shutterbeat --help"));
        // CLI11 reads a list of words from its end.
        std::vector<std::string> reversed (words.rbegin(), words.rend());
        try
        {
            app.parse (reversed);
        }
        catch (const CLI::CallForHelp& help)
        {
            app.exit (help, out, err);
            return done;
        }
        catch (const CLI::CallForVersion& version)
        {
            app.exit (version, out, err);
            return done;
        }
        catch (const CLI::ParseError& wrong)
        {
            err << "error: " << wrong.what() << "; see shutterbeat --help\n";
            return wrongUsage;
        }
        return chosen ? chosen (console) : static_cast<int> (wrongUsage);
    }
    catch (const std::exception& failure)
    {
        // Nothing below throws on purpose: memory ran out, or a bug.
        err << "error: stopped by an internal fault (" << failure.what() << "); nothing was saved\n";
        return unreadableInput;
    }
}
} // namespace shutterbeat::cli
