#include "exchange/CmxComments.h"

#include "exchange/PlainText.h"
#include "time/Text.h"
#include "time/Timecode.h"

#include <algorithm>

namespace shutterbeat::exchange
{
namespace
{
/// The first word of `text`, which is left with what follows the blanks after it.
std::string nextWord (std::string_view& text)
{
    const auto end = std::min (text.find (' '), text.size());
    const std::string found (text.substr (0, end));
    text.remove_prefix (end);
    text.remove_prefix (std::min (text.find_first_not_of (' '), text.size()));
    return found;
}

class CommentReader
{
public:
    explicit CommentReader (const time::Rate& listRate)
        : rate (listRate)
    {
    }

    void readLine (std::string_view text, std::int64_t line)
    {
        text = time::trimmed (text);
        if (time::lowerAscii (text.substr (0, 4)) == "fcm:")
        {
            const bool drop = time::lowerAscii (text).find ("non") == std::string::npos;
            if (drop != rate.dropFrame)
                found.warnings.push_back ("line " + std::to_string (line) + " says " + std::string (text) + ", the list is read at "
                                          + time::rateName (rate));
            // At 29.97 and 59.94 the list itself says how it counts.
            if (const time::Rate other{ rate.perSecond, drop }; time::parseRate (time::rateName (other)).ok())
                rate = other;
            return;
        }
        if (! time::startsWith (text, "*"))
            return;
        text.remove_prefix (1);
        text = time::trimmed (text);
        const auto what = time::lowerAscii (nextWord (text));
        if (what != "hit" && what != "cue")
            return;
        if (const auto wrong = what == "hit" ? readHit (text, line) : readCue (text, line); ! wrong.empty())
            found.bad.push_back ({ line, wrong });
    }

    CmxComments found;

private:
    std::string readHit (std::string_view text, std::int64_t line)
    {
        CmxHit hit;
        hit.line = line;
        hit.timecode = nextWord (text);
        const auto count = time::parseLabel (hit.timecode, rate);
        const auto weight = spotting::parseWeight (nextWord (text));
        auto kindWord = nextWord (text);
        std::replace (kindWord.begin(), kindWord.end(), '-', ' ');
        const auto kind = spotting::parseHitKind (kindWord);
        if (! count)
            return count.error().text();
        if (! weight)
            return weight.error().text();
        if (! kind)
            return kind.error().text();
        hit.count = count->value;
        hit.weight = *weight;
        hit.kind = *kind;
        hit.text = std::string (text);
        found.hits.push_back (std::move (hit));
        return "";
    }

    std::string readCue (std::string_view text, std::int64_t line)
    {
        CmxCue cue;
        cue.line = line;
        const auto in = time::parseLabel (nextWord (text), rate), out = time::parseLabel (nextWord (text), rate);
        if (! in)
            return in.error().text();
        if (! out)
            return out.error().text();
        cue.in = in->value;
        cue.out = out->value;
        cue.number = nextWord (text);
        cue.title = std::string (text);
        found.cues.push_back (std::move (cue));
        return "";
    }

    time::Rate rate;
};
} // namespace

Result<CmxComments> readCmxComments (std::string_view bytes, const time::Rate& rate)
{
    if (! time::hasTimecode (rate))
        return usageError ("CMX3600 list", "can't be read at " + time::rateName (rate) + ", which has no timecode");
    CommentReader reader (rate);
    std::int64_t number = 0;
    for (const auto& line : linesOf (bytes))
        reader.readLine (line, ++number);
    return std::move (reader.found);
}
} // namespace shutterbeat::exchange
