#include "cli/Command.h"
#include "cli/Table.h"
#include "spotting/WorkEdit.h"
#include "time/Text.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct WorkWords
{
    std::string book, person = "me", work, cue, usage = "BI";
    std::vector<std::string> works, writers, publishers, fields, codes;
    std::optional<std::string> title, iswc, shares, note, from, to;
    bool free = false, json = false, alone = false;

    void addFieldsTo (CLI::App& command)
    {
        const std::string form = "\"Surname, First; ROLE; PERCENT; IPI; SOCIETY\", the last two as far as known; again for more";
        command.add_option ("--iswc", iswc, "ISWC, such as T-034.524.680-1; its check digit is checked");
        command.add_option ("--writer", writers, "Writer with role (C, A, CA, AR, AD, TR) and share: " + form)->expected (1, -1);
        command.add_option ("--publisher", publishers, "Publisher with role (E, SE, AM) and share, the same way")->expected (1, -1);
        command.add_option ("--shares", shares, "apart (writers 100, publishers 100) or together (all of them 100)");
        command.add_flag ("--non-copyright", free, "Nobody has a share in it");
        command.add_option ("--note", note, "Note");
    }
};

Result<spotting::Interest> interestOf (const std::string& text, bool writer)
{
    const auto parts = time::splitAt (text, ';');
    const std::string where = std::string (writer ? "writer" : "publisher") + " \"" + text + "\"";
    if (parts.size() < 3 || parts.size() > 5)
        return usageError (where, "is written: Surname, First; ROLE; PERCENT; IPI; SOCIETY");
    spotting::Interest interest;
    interest.name = time::trimmed (parts[0]);
    interest.role = time::trimmed (parts[1]);
    const auto share = time::parseRational (time::trimmed (parts[2]));
    if (! share)
        return usageError (where, "its share is a number of percent, such as 50 or 100/3");
    interest.share = *share;
    if (parts.size() > 3)
        interest.ipi = time::trimmed (parts[3]);
    if (parts.size() > 4)
        interest.society = time::trimmed (parts[4]);
    return interest;
}

Result<spotting::Work> withFields (spotting::Work work, const WorkWords& words)
{
    for (const bool writer : { true, false })
    {
        const auto& texts = writer ? words.writers : words.publishers;
        if (texts.empty())
            continue;
        auto& interests = writer ? work.writers : work.publishers;
        interests.clear();
        for (const auto& text : texts)
        {
            auto interest = interestOf (text, writer);
            if (! interest)
                return interest.error();
            interests.push_back (std::move (*interest));
        }
    }
    if (words.title)
        work.title = *words.title;
    if (words.iswc)
        work.iswc = *words.iswc;
    if (words.note)
        work.note = *words.note;
    if (words.free)
        work.protectedByCopyright = false;
    if (words.shares && *words.shares != "apart" && *words.shares != "together")
        return usageError ("--shares " + *words.shares, "is neither apart nor together");
    if (words.shares)
        work.sum = *words.shares == "together" ? spotting::ShareSum::together : spotting::ShareSum::apart;
    return work;
}

std::string interestsText (const std::vector<spotting::Interest>& interests)
{
    std::string text;
    for (const auto& interest : interests)
        text += (text.empty() ? "" : "; ") + interest.name + " " + interest.role + " " + spotting::percentText (interest.share);
    return text;
}

std::string cuesOf (const spotting::Book& book, const spotting::Work& work)
{
    std::string text;
    for (const auto& use : book.uses)
        if (use.work == work.id)
            if (const auto* cue = spotting::cueOf (book, use.cue))
                text += (text.empty() ? "" : ", ") + cue->number + " " + use.usage;
    return text;
}

int listWorks (const WorkWords& words, const Console& console)
{
    const auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    const auto times = spotting::timesOf (open->book);
    if (! times)
        return console.fail (times.error());
    const auto faults = spotting::rightsOf (open->book, *times).faults;
    if (words.json)
    {
        auto works = nlohmann::ordered_json::array();
        for (const auto& work : open->book.works)
            works.push_back ({ { "id", work.id },
                               { "title", work.title },
                               { "iswc", work.iswc },
                               { "writers", interestsText (work.writers) },
                               { "publishers", interestsText (work.publishers) },
                               { "cues", cuesOf (open->book, work) } });
        console.out << nlohmann::ordered_json{ { "works", works }, { "faults", faults } }.dump (
            2, ' ', false, nlohmann::ordered_json::error_handler_t::replace)
                    << "\n";
    }
    else
    {
        std::vector<std::vector<std::string>> rows;
        for (const auto& work : open->book.works)
            rows.push_back ({ work.id, oneLine (work.title), work.iswc, interestsText (work.writers),
                              interestsText (work.publishers), cuesOf (open->book, work) });
        printTable ({ { "id" }, { "title" }, { "iswc" }, { "writers" }, { "publishers" }, { "cues" } }, rows, console.out);
        console.notes (faults);
    }
    return faults.empty() ? done : found;
}

Result<spotting::Book> use (const spotting::Book& book, const WorkWords& words)
{
    const auto cue = spotting::cueNamed (book, words.cue);
    if (! cue)
        return cue.error();
    const auto work = spotting::workNamed (book, words.work);
    if (! work)
        return work.error();
    const auto codes = spotting::usagesOf (book);
    if (std::none_of (codes.begin(), codes.end(), [&] (const auto& code) { return code.code == words.usage; }))
    {
        std::string all;
        for (const auto& code : codes)
            all += (all.empty() ? "" : ", ") + code.code;
        return usageError ("--usage " + words.usage, "is not in the book's table of codes: " + all);
    }
    spotting::WorkUse made{ cue->id, work->id, words.usage, {}, {}, {} };
    for (const bool from : { true, false })
        if (const auto& text = from ? words.from : words.to)
        {
            const auto seconds = time::parseRational (*text);
            if (! seconds)
                return usageError (std::string (from ? "--from " : "--to ") + *text, "is seconds from the cue's in, such as 12.5");
            (from ? made.from : made.to) = *seconds;
        }
    std::vector<spotting::WorkUse> uses;
    if (! words.alone)
        for (const auto& known : book.uses)
            if (known.cue == cue->id)
                uses.push_back (known);
    uses.push_back (std::move (made));
    return spotting::setUses (book, cue->id, std::move (uses));
}

Result<spotting::Book> production (const spotting::Book& book, const WorkWords& words)
{
    auto changed = book.production;
    for (const auto& field : words.fields)
    {
        const auto sign = field.find ('=');
        const auto name = field.substr (0, sign);
        if (sign == std::string::npos)
            return usageError ("\"" + field + "\"", "is written FIELD=TEXT");
        if (name == "round_up")
        {
            changed.roundUp = field.substr (sign + 1) == "yes";
            continue;
        }
        std::string all;
        bool known = false;
        for (const auto& one : spotting::productionFields())
        {
            all += std::string (one.name) + ", ";
            if (name == one.name)
            {
                changed.*one.text = field.substr (sign + 1);
                known = true;
            }
        }
        if (! known)
            return usageError ("field " + name, "is not known; there are " + all + "round_up (yes or no)");
    }
    return spotting::setProduction (book, changed);
}

Result<spotting::Book> codes (const spotting::Book& book, const WorkWords& words)
{
    std::vector<spotting::UsageCode> table;
    for (const auto& text : words.codes)
    {
        const auto sign = text.find ('=');
        if (sign == std::string::npos)
            return usageError ("\"" + text + "\"", "is written CODE=MEANING");
        table.push_back ({ text.substr (0, sign), text.substr (sign + 1) });
    }
    return spotting::setUsages (book, std::move (table));
}
} // namespace

void addWorks (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<WorkWords>();
    auto* command =
        app.add_subcommand ("works", "Works for the rights cue sheet: writers, publishers, shares, and which cue uses them");
    command->footer ("Example: shutterbeat works film.shutterbeat add \"The Ladder Waltz\" --iswc T-034.524.680-1 --writer \"Holm, "
                     "Ida; C; 100\"\n"
                     "Exit status of the list: 1 while something is to be settled.");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->require_subcommand (0, 1);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    const auto edits = [words, &chosen] (CLI::App* verb, std::function<Result<spotting::Book> (const spotting::Book&)> edit)
    {
        verb->callback (
            [words, edit, &chosen]
            {
                chosen = [words, edit] (const Console& console)
                { return editBook (console, words->book, [&] (const desk::OpenBook& open) { return edit (open.book); }); };
            });
    };
    command->callback (
        [words, command, &chosen]
        {
            if (command->get_subcommands().empty())
                chosen = [words] (const Console& console) { return listWorks (*words, console); };
        });
    auto* list = command->add_subcommand ("list", "Every work, and what is still to be settled");
    list->add_flag ("--json", words->json, "One JSON document on standard output");
    list->callback ([words, &chosen] { chosen = [words] (const Console& console) { return listWorks (*words, console); }; });

    auto* add = command->add_subcommand ("add", "Adds a work");
    add->add_option ("TITLE", words->title, "Title")->required();
    words->addFieldsTo (*add);
    add->add_option ("--person", words->person, "Who enters it: a short word")->capture_default_str();
    edits (add,
           [words] (const spotting::Book& book) -> Result<spotting::Book>
           {
               auto work = withFields ({}, *words);
               if (! work)
                   return work.error();
               auto edited = spotting::addWork (book, words->person, std::move (*work));
               return edited ? Result<spotting::Book> (std::move (edited->book)) : edited.error();
           });

    auto* set = command->add_subcommand ("set", "Changes a work; writers or publishers that are given replace those there were");
    set->add_option ("WORK", words->work, "Id or title")->required();
    set->add_option ("--title", words->title, "Title");
    words->addFieldsTo (*set);
    edits (set,
           [words] (const spotting::Book& book) -> Result<spotting::Book>
           {
               const auto known = spotting::workNamed (book, words->work);
               if (! known)
                   return known.error();
               const auto work = withFields (*known, *words);
               return work ? spotting::setWork (book, *work) : work.error();
           });

    auto* remove = command->add_subcommand ("remove", "Removes works, from the cues that use them too");
    remove->add_option ("WORK", words->works, "Ids or titles")->required();
    edits (remove,
           [words] (const spotting::Book& book) -> Result<spotting::Book>
           {
               std::vector<std::string> ids;
               for (const auto& name : words->works)
               {
                   const auto work = spotting::workNamed (book, name);
                   if (! work)
                       return work.error();
                   ids.push_back (work->id);
               }
               return spotting::removeWorks (book, ids);
           });

    auto* used = command->add_subcommand ("use", "Says that a cue uses a work");
    used->footer ("Example: shutterbeat works film.shutterbeat use 1M1 \"The Ladder Waltz\" --usage BI --to 20");
    used->add_option ("CUE", words->cue, "Id or number of the cue")->required();
    used->add_option ("WORK", words->work, "Id or title of the work")->required();
    used->add_option ("--usage", words->usage, "Code of the book's table")->capture_default_str();
    used->add_option ("--from", words->from, "Seconds from the cue's in; else its beginning");
    used->add_option ("--to", words->to, "Seconds from the cue's in; else its end");
    used->add_flag ("--alone", words->alone, "In place of what the cue used before");
    edits (used, [words] (const spotting::Book& book) { return use (book, *words); });

    auto* about = command->add_subcommand ("production", "Fills in the production block: FIELD=TEXT, again for more");
    about->footer ("Example: shutterbeat works film.shutterbeat production year=1921 territory=World round_up=no");
    about->add_option ("FIELD", words->fields, "year=1921, company=..., round_up=yes")->required();
    edits (about, [words] (const spotting::Book& book) { return production (book, *words); });

    auto* table = command->add_subcommand ("codes", "The book's own table of usage codes: CODE=MEANING, all of them");
    table->add_option ("CODE", words->codes, "BI=background, instrumental")->required();
    edits (table, [words] (const spotting::Book& book) { return codes (book, *words); });
}
} // namespace shutterbeat::cli
