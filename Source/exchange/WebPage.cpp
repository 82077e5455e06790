#include "exchange/WebPage.h"

#include "exchange/PageParts.h"
#include "exchange/PlainText.h"
#include "spotting/MarkShapes.h"
#include "time/Timecode.h"

#include <nlohmann/json.hpp>

namespace shutterbeat::exchange
{
namespace
{
using Json = nlohmann::ordered_json;

/// JSON that can't end the script element it stands in.
std::string inPage (const Json& json)
{
    std::string safe;
    for (const char c : json.dump (-1, ' ', false, Json::error_handler_t::replace))
        if (c == '<')
            safe += "\\u003c";
        else
            safe += c;
    return safe;
}

std::string htmlText (const std::string& text)
{
    std::string safe;
    for (const char c : text)
        safe += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '>' ? "&gt;" : std::string (1, c);
    return safe;
}

void put (std::string& page, const std::string& name, const std::string& content)
{
    const auto at = page.find ("{{" + name + "}}");
    if (at != std::string::npos)
        page.replace (at, name.size() + 4, content);
}

std::string thousandths (double x)
{
    return time::decimalText (time::Rational (static_cast<std::int64_t> (x * 1000 + (x < 0 ? -0.5 : 0.5)), 1000), 3);
}

/// The mark of a kind as the path of an SVG drawing.
std::string pathOf (spotting::HitKind kind)
{
    using Step = spotting::MarkStep::Kind;
    std::string path;
    const auto point = [] (double x, double y) { return thousandths (x) + " " + thousandths (y); };
    for (const auto& step : spotting::markShape (kind))
        switch (step.kind)
        {
        case Step::move:
            path += "M" + point (step.x, step.y);
            break;
        case Step::line:
            path += "L" + point (step.x, step.y);
            break;
        case Step::curve:
            path += "C" + point (step.x1, step.y1) + " " + point (step.x2, step.y2) + " " + point (step.x, step.y);
            break;
        case Step::close:
            path += "Z";
            break;
        }
    return path;
}

std::string marksText()
{
    using Kind = spotting::HitKind;
    Json marks = Json::object();
    for (const auto kind :
         { Kind::cut, Kind::card, Kind::gag, Kind::action, Kind::entrance, Kind::effect, Kind::mood, Kind::seenMusic, Kind::stop })
        marks[std::string (spotting::hitKindName (kind))] = pathOf (kind);
    return "const marks = " + marks.dump() + ";";
}

Json frameOf (const std::optional<film::PlaceTimes>& at)
{
    return at ? Json (at->delivered) : Json (nullptr);
}

Json cueJson (const spotting::CueTimes& row)
{
    const auto& cue = row.cue;
    return { { "id", cue.id },
             { "number", cue.number },
             { "title", cue.title },
             { "kind", spotting::cueKindName (cue.kind) },
             { "mood", cue.mood },
             { "status", spotting::cueStatusName (cue.status) },
             { "note", cue.note },
             { "reel", row.in ? row.in->reel : 0 },
             { "in", frameOf (row.in) },
             { "out", row.in && row.out && row.in->reel == row.out->reel ? frameOf (row.out) : Json (nullptr) } };
}

Json hitJson (const spotting::HitTimes& row)
{
    const auto& hit = row.hit;
    return { { "id", hit.id },
             { "reel", row.at ? row.at->reel : 0 },
             { "frame", frameOf (row.at) },
             { "place", row.place },
             { "kind", spotting::hitKindName (hit.kind) },
             { "weight", spotting::weightName (hit.weight) },
             { "label", hit.label },
             { "note", hit.note },
             { "asked_by", hit.askedBy },
             { "agreed", hit.agreed },
             { "cue", hit.cue },
             { "lead", hit.lead.sign() == 0 ? "" : time::fractionText (hit.lead) } };
}
} // namespace

Result<Written> writeWebPage (const spotting::BookTimes& times, const ListHead& head, const PageWish& wish)
{
    const auto& timings = times.timings;
    const auto& rate = timings.delivery().rate;
    if (wish.movies.size() != timings.reelCount())
        return usageError ("web page", "needs " + std::to_string (timings.reelCount()) + " movie(s), one a reel; "
                                           + std::to_string (wish.movies.size()) + " given");
    Json reels = Json::array(), cues = Json::array(), hits = Json::array();
    for (std::size_t r = 0; r < timings.reelCount(); ++r)
        reels.push_back ({ { "movie", wish.movies[r].file },
                           { "leader", wish.movies[r].leader },
                           { "length", timings.deliveredLength (r) },
                           { "start", timings.startCount (r) } });
    for (const auto& row : times.cues)
        cues.push_back (cueJson (row));
    for (const auto& row : times.hits)
        hits.push_back (hitJson (row));
    const Json book{ { "title", head.title },
                     { "stamped", head.stamped },
                     { "revision", head.revision },
                     { "parcel", wish.parcel },
                     { "person", { { "id", wish.personId }, { "name", wish.personName } } },
                     { "next", wish.lastNumber + 1 },
                     { "edition", timings.edition().letter },
                     { "basis", spotting::basisText (timings) },
                     { "final_rate", time::rateName (rate) },
                     { "fill", film::fillName (timings.delivery().from) },
                     { "running", wish.running },
                     { "rate",
                       { static_cast<std::int64_t> (rate.perSecond.numerator()),
                         static_cast<std::int64_t> (rate.perSecond.denominator()) } },
                     { "labels", time::hasTimecode (rate) ? time::labelsPerSecond (rate) : 0 },
                     { "drop", rate.dropFrame },
                     { "reels", reels },
                     { "cues", cues },
                     { "hits", hits } };
    std::string page = pageHtml();
    put (page, "CSS", pageCss());
    put (page, "MARKS", marksText());
    put (page, "JS", pageJs());
    // What comes from the book goes in last, the title above all: nothing that they hold is taken for a place.
    put (page, "BOOK", inPage (book));
    put (page, "TITLE", htmlText (oneLine (fromUtf8OrLatin1 (head.title))));
    return Written{ { { "", std::move (page) } }, {} };
}
} // namespace shutterbeat::exchange
