#include "store/Recuts.h"

namespace shutterbeat::store
{
namespace
{
OrderedJson matchJson (const spotting::PendingMatch& match)
{
    OrderedJson json{ { "id", match.id },
                      { "doubt", std::string (spotting::doubtName (match.doubt)) },
                      { "print", match.print },
                      { "first", match.first },
                      { "other", match.other },
                      { "other_first", match.otherFirst },
                      { "frames", match.frames },
                      { "shot", match.shot },
                      { "other_shot", match.otherShot },
                      { "sure_permille", match.sure },
                      { "answer", std::string (spotting::answerName (match.answer)) } };
    if (match.moved != 0)
        json["moved"] = match.moved;
    addUnknown (json, match.unknown);
    return json;
}
} // namespace

void addRecuts (OrderedJson& json, const spotting::Book& book)
{
    for (const auto& same : book.samePictures)
    {
        OrderedJson one{ { "print", same.print },
                         { "first", same.first },
                         { "other", same.other },
                         { "other_first", same.otherFirst },
                         { "frames", same.frames } };
        addUnknown (one, same.unknown);
        json["same_pictures"].push_back (std::move (one));
    }
    for (const auto& recut : book.recuts)
    {
        OrderedJson matches = OrderedJson::array();
        for (const auto& match : recut.matches)
            matches.push_back (matchJson (match));
        OrderedJson one{ { "before", recut.before }, { "after", recut.after }, { "matches", std::move (matches) } };
        addUnknown (one, recut.unknown);
        json["recuts"].push_back (std::move (one));
    }
}
} // namespace shutterbeat::store
