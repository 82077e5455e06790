#include "window/ImportDesk.h"

#include "time/Text.h"
#include "window/Bench.h"

#include <filesystem>

namespace shutterbeat::window
{
namespace
{
std::size_t rowOf (const std::string& name)
{
    const auto& formats = desk::importFormats();
    for (std::size_t i = 0; i < formats.size(); ++i)
        if (formats[i].name == name)
            return i;
    return 0;
}

const char* kindWord (desk::ImportChange::Kind kind)
{
    switch (kind)
    {
    case desk::ImportChange::Kind::added:
        return "new";
    case desk::ImportChange::Kind::changed:
        return "changed";
    case desk::ImportChange::Kind::merged:
        return "joined";
    case desk::ImportChange::Kind::same:
        break;
    }
    return "as it was";
}
} // namespace

std::optional<std::size_t> ImportDesk::formatOf (const std::string& path)
{
    const auto ending = time::lowerAscii (std::filesystem::path (path).extension().string());
    const std::pair<const char*, const char*> known[] = {
        { ".csv", "csv" },   { ".tsv", "csv" },    { ".edl", "cmx3600" },     { ".otio", "otio" },          { ".vtt", "cards" },
        { ".srt", "cards" }, { ".json", "reply" }, { ".ffmeta", "chapters" }, { ".ffmetadata", "chapters" }
    };
    for (const auto& [end, name] : known)
        if (ending == end)
            return rowOf (name);
    return {};
}

void ImportDesk::offer (const std::string& path)
{
    planned.reset();
    file = path;
    if (const auto known = formatOf (path))
        kind = *known;
    bench.showPanel (Panel::importList);
    if (formatOf (path))
        look (path);
}

void ImportDesk::setFormat (std::size_t which)
{
    kind = which;
    planned.reset();
    ++shown;
    bench.changed();
}

void ImportDesk::type (const std::string& path)
{
    file = path;
    if (const auto known = formatOf (path))
        kind = *known;
}

void ImportDesk::look (const std::string& path)
{
    if (path.empty())
        return bench.complain ("Name the file first.");
    file = path;
    planned.reset();
    const auto& format = desk::importFormats()[kind];
    desk::ImportWish wish;
    wish.person = bench.whoIsHere();
    wish.reel = bench.times() != nullptr ? bench.transport.position().reel : 0;
    bench.startJob<desk::ImportPlan> (
        "Reading " + std::filesystem::path (path).filename().string(),
        [open = bench.opened(), name = format.name, path, wish] (const desk::Progress&)
        { return desk::planImportFile (open, name, path, wish); },
        [this, asked = bench.book()] (desk::ImportPlan made)
        {
            planned = std::move (made);
            ++shown;
            plannedFor = asked;
        },
        "Stopped.");
}

std::string ImportDesk::summary() const
{
    if (! planned)
        return "";
    using Kind = desk::ImportChange::Kind;
    return std::to_string (planned->count (Kind::added)) + " new, " + std::to_string (planned->count (Kind::changed)) + " changed, "
           + std::to_string (planned->count (Kind::merged)) + " joined with one at the same place, "
           + std::to_string (planned->count (Kind::same)) + " as they were, " + std::to_string (planned->bad.size())
           + " lines left out. Nothing is in the book yet.";
}

std::vector<std::string> ImportDesk::lines() const
{
    std::vector<std::string> all;
    if (! planned)
        return all;
    const auto lineText = [] (std::int64_t line) { return line > 0 ? " (line " + std::to_string (line) + ")" : std::string(); };
    for (const auto& bad : planned->bad)
        all.push_back ("left out" + lineText (bad.line) + ": " + bad.why);
    for (const auto& conflict : planned->conflicts)
        all.push_back ("both changed it: " + conflict.what + ", " + conflict.field + ": the book's " + conflict.mine
                       + " holds, the file says " + conflict.theirs);
    for (const auto& note : planned->notes)
        all.push_back (note);
    for (const auto& change : planned->changes)
        if (change.kind != desk::ImportChange::Kind::same)
            all.push_back (std::string (kindWord (change.kind)) + lineText (change.line) + ": " + change.what);
    return all;
}

void ImportDesk::take()
{
    if (! planned || ! plannedFor)
        return bench.complain ("Look at what the file would change first.");
    if (! (bench.book() == *plannedFor))
    {
        planned.reset();
        return bench.complain ("The book has changed meanwhile. Look at what the file would change once more.");
    }
    if (planned->book == bench.book())
        return bench.say ("The book has all of that already.");
    const auto name = std::filesystem::path (file).filename().string();
    bench.take ("read " + name, planned->book);
    planned.reset();
    bench.showPanel (Panel::ledger);
    bench.say ("Taken from " + name + " as one step; Ctrl+Z takes it back.");
}
} // namespace shutterbeat::window
