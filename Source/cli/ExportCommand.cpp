#include "cli/Command.h"
#include "desk/Export.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct ExportWords
{
    std::string book, format, output, folder, stamped, separator = "comma", decimal = "point", paper = "a4";
    std::vector<std::string> columns, chapters;
    AskedWords asked;
    bool plain = false;
    bool json = false;
};

/// Lays the looks of tables and sheets over what was asked. Error: a word there is not.
Result<desk::ExportWish> wishOf (const ExportWords& words, const spotting::Asked& asked)
{
    desk::ExportWish wish;
    wish.asked = asked;
    wish.stamped = words.stamped;
    wish.columns = words.columns;
    wish.chapters = words.chapters;
    wish.byteOrderMark = ! words.plain;
    if (words.separator != "comma" && words.separator != "semicolon" && words.separator != "tab")
        return usageError ("--separator " + words.separator, "is not one of comma, semicolon, tab");
    wish.separator = words.separator == "comma" ? ',' : words.separator == "semicolon" ? ';' : '\t';
    if (words.decimal != "point" && words.decimal != "comma")
        return usageError ("--decimal " + words.decimal, "is neither point nor comma");
    wish.decimalSign = words.decimal == "point" ? '.' : ',';
    if (words.paper != "a4" && words.paper != "letter")
        return usageError ("--paper " + words.paper, "is neither a4 nor letter");
    wish.letter = words.paper == "letter";
    if (! words.columns.empty() && words.format != "csv" && words.format != "cues-csv")
        return usageError ("--columns", "is for the formats csv and cues-csv");
    return wish;
}

int makeExport (const ExportWords& words, const Console& console)
{
    if (words.folder.empty() && (words.format.empty() || words.output.empty()))
        return console.fail (usageError ("export", "give a format and -o FILE, or --all FOLDER"));
    std::vector<std::string> notes;
    const auto asked = words.asked.read (notes);
    if (! asked)
        return console.fail (asked.error());
    const auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    const auto wish = wishOf (words, *asked);
    if (! wish)
        return console.fail (wish.error());
    const auto exported = words.folder.empty() ? desk::exportBook (*open, words.format, words.output, *wish, console.progress())
                                               : desk::exportAll (*open, words.folder, *wish, console.progress());
    console.notes (notes);
    if (! exported)
        return console.fail (exported.error());
    console.notes (exported->notes);
    if (words.json)
        console.out << nlohmann::ordered_json{ { "files", exported->files }, { "notes", exported->notes } }.dump (2) << "\n";
    else
        for (const auto& file : exported->files)
            console.out << file << "\n";
    return done;
}
} // namespace

void addExport (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<ExportWords>();
    auto* command = app.add_subcommand ("export", "Writes lists, files and sheets in the final rate");
    std::string formats;
    for (const auto& format : desk::exportFormats())
        formats += "\n  " + format.name + ": " + format.what + (format.inAll ? "" : " (not made with --all)");
    command->footer ("Formats:" + formats
                     + "\nExample: shutterbeat export film.shutterbeat notes -o notes.pdf --final 25 --stamped 2026-05-01\n"
                       "         shutterbeat export film.shutterbeat --all handover");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("FORMAT", words->format, "One of the formats below");
    command->add_option ("-o,--output", words->output, "File to write");
    command->add_option ("--all", words->folder, "Folder to write every format into");
    command->add_option ("--stamped", words->stamped, "Date to print on everything; the same date gives the same bytes");
    command->add_option ("--columns", words->columns, "Columns of a table, in order, with commas between: timecode,label")
        ->delimiter (',');
    command->add_option ("--separator", words->separator, "Of tables: comma, semicolon or tab")->capture_default_str();
    command->add_option ("--decimal", words->decimal, "Decimal sign of tables: point or comma")->capture_default_str();
    command->add_flag ("--plain", words->plain, "Tables without a byte order mark");
    command->add_option ("--paper", words->paper, "Of sheets: a4 or letter")->capture_default_str();
    command->add_option ("--chapter", words->chapters, "Id of a hit or cue that begins a chapter too; again for more");
    words->asked.addTo (*command);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return makeExport (*words, console); }; });
}
} // namespace shutterbeat::cli
