#include "window/HandOverDesk.h"

#include "window/Bench.h"
#include "window/Today.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::window
{
namespace
{
constexpr int previewWidth = 900, previewMost = 40;

std::string oneAfterAnother (const std::vector<std::string>& notes)
{
    std::string all;
    for (const auto& note : notes)
        all += " " + note + (note.empty() || note.back() == '.' ? "" : ".");
    return all;
}
} // namespace

HandOverDesk::HandOverDesk (Bench& owner)
    : bench (owner)
{
    chooseAll (true);
}

void HandOverDesk::toggle (const std::string& format)
{
    if (chosen.erase (format) == 0)
        chosen.insert (format);
    bench.changed();
}

void HandOverDesk::chooseAll (bool all)
{
    chosen.clear();
    if (all)
        for (const auto& format : desk::exportFormats())
            if (format.inAll)
                chosen.insert (format.name);
    bench.changed();
}

void HandOverDesk::setLetter (bool on)
{
    onLetter = on;
    if (pages)
        return look (looked);
    bench.changed();
}

film::Delivery HandOverDesk::delivery() const
{
    return other ? *other : bench.hasBook() ? bench.book().delivery : film::Delivery();
}

void HandOverDesk::setDelivery (const std::optional<film::Delivery>& wanted)
{
    other = wanted;
    if (pages)
        return look (looked);
    bench.changed();
}

spotting::Asked HandOverDesk::asked() const
{
    spotting::Asked made;
    if (other)
    {
        made.rate = other->rate;
        made.fill = other->from;
    }
    return made;
}

std::string HandOverDesk::folder() const
{
    if (! named.empty())
        return named;
    return (std::filesystem::path (bench.path()).parent_path() / "handover").string();
}

desk::ExportWish HandOverDesk::wish() const
{
    desk::ExportWish made;
    made.asked = asked();
    made.stamped = today();
    made.letter = onLetter;
    return made;
}

void HandOverDesk::make()
{
    if (! bench.hasBook())
        return;
    if (chosen.empty())
        return bench.say ("Nothing is ticked.");
    auto wanted = wish();
    wanted.only.assign (chosen.begin(), chosen.end());
    bench.startJob<desk::Exported> (
        "Making " + std::to_string (chosen.size()) + " sheets, lists and files",
        [open = bench.opened(), wanted, into = folder()] (const desk::Progress& progress)
        { return desk::exportAll (open, into, wanted, progress); },
        [this, into = folder()] (desk::Exported done)
        { bench.say (std::to_string (done.files.size()) + " files lie in " + into + "." + oneAfterAnother (done.notes)); },
        "Stopped. What was made already stays in " + folder() + ".");
}

void HandOverDesk::look (const std::string& format)
{
    if (! bench.hasBook())
        return;
    bench.startJob<desk::PagePreview> (
        "Setting the pages",
        [open = bench.opened(), format, asked = wish()] (const desk::Progress& progress)
        { return desk::previewPages (open, format, asked, previewWidth, previewMost, progress); },
        [this, format] (desk::PagePreview made)
        {
            looked = format;
            pages = std::move (made);
            pageShown = 0;
            if (! pages->notes.empty())
                bench.say (oneAfterAnother (pages->notes).substr (1));
        },
        "Stopped.");
}

void HandOverDesk::turn (int by)
{
    if (! pages || pages->pages.empty())
        return;
    pageShown = std::clamp (pageShown + by, 0, static_cast<int> (pages->pages.size()) - 1);
    bench.changed();
}

void HandOverDesk::closePreview()
{
    pages.reset();
    looked.clear();
    bench.changed();
}
} // namespace shutterbeat::window
