#include "media/ReelName.h"

namespace shutterbeat::media
{
namespace
{
std::string tagOf (const AVDictionary* tags)
{
    for (const char* name : { "reel_name", "reel", "tape" })
        if (const AVDictionaryEntry* entry = av_dict_get (tags, name, nullptr, 0); entry != nullptr && entry->value[0] != '\0')
            return entry->value;
    return {};
}
} // namespace

std::string reelNameOf (const PictureStream& film)
{
    // The picture's own track first, then the timecode track, whichever it is, then the file.
    auto name = tagOf (film.stream().metadata);
    for (unsigned i = 0; name.empty() && i < film.format().nb_streams; ++i)
        name = tagOf (film.format().streams[i]->metadata);
    return name.empty() ? tagOf (film.format().metadata) : name;
}
} // namespace shutterbeat::media
