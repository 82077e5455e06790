#include "exchange/WavRead.h"

#include "exchange/PlainText.h"

#include <algorithm>
#include <map>

namespace shutterbeat::exchange
{
namespace
{
constexpr std::uint64_t sizeElsewhere = 0xFFFFFFFF;
constexpr int mostChunks = 10'000; ///< zeros behind the sound would be read as a chunk every eight bytes
constexpr std::uint64_t mostInMemory = std::uint64_t{ 64 } << 20;

std::uint64_t little (std::string_view bytes, std::size_t at, int count)
{
    std::uint64_t number = 0;
    for (int i = count - 1; i >= 0; --i)
        number = number << 8
                 | (at + static_cast<std::size_t> (i) < bytes.size()
                        ? static_cast<unsigned char> (bytes[at + static_cast<std::size_t> (i)])
                        : 0u);
    return number;
}

/// Text up to its first zero byte.
std::string zeroText (std::string_view bytes)
{
    return fromUtf8OrLatin1 (bytes.substr (0, bytes.find ('\0')));
}

class WavReader
{
public:
    WavReader (const ReadAt& read, std::uint64_t fileSize)
        : readAt (read)
        , size (fileSize)
    {
    }

    Result<WavInfo> read()
    {
        const auto head = readAt (0, 12);
        const auto form = head.substr (0, 4);
        if (head.size() < 12 || head.substr (8) != "WAVE" || (form != "RIFF" && form != "RF64" && form != "BW64"))
            return unreadable ("WAV file", "is not one: it does not begin as RIFF, RF64 or BW64 files do");
        info.large = form != "RIFF";
        int chunks = 0;
        for (std::uint64_t at = 12; at + 8 <= size;)
        {
            if (++chunks > mostChunks)
            {
                info.notes.push_back ("has more than " + std::to_string (mostChunks) + " chunks; what follows is passed over");
                break;
            }
            const auto name = readAt (at, 8);
            if (name.size() < 8)
                break;
            auto length = little (name, 4, 4);
            const auto word = name.substr (0, 4);
            if (word == "data" && length == sizeElsewhere && info.large)
                length = dataSize;
            // Not at + 8 + length: a ds64 chunk may say a length that wraps around.
            if (length > size - at - 8)
            {
                info.notes.push_back ("chunk \"" + word + "\" says it is longer than the file; it is read as far as it goes");
                length = size - at - 8;
            }
            if (word == "data")
            {
                data = length;
                hasData = true;
            }
            else if (length <= mostInMemory
                     && (word == "fmt " || word == "bext" || word == "cue " || word == "LIST" || word == "ds64"))
                chunk (word, readAt (at + 8, static_cast<std::size_t> (length)));
            at += 8 + length + length % 2;
        }
        if (info.channels < 1 || info.samplesPerSecond < 1 || frame < 1)
            return unreadable ("WAV file", "has no format chunk that makes sense");
        if (! hasData)
            return unreadable ("WAV file", "has no samples");
        info.samples = static_cast<std::int64_t> (data / frame);
        for (auto& cue : info.cues)
            if (const auto label = labels.find (cue.id); label != labels.end())
                cue.label = label->second;
            else if (const auto note = notesOfCues.find (cue.id); note != notesOfCues.end())
                cue.label = note->second;
        std::stable_sort (info.cues.begin(), info.cues.end(),
                          [] (const WavCue& a, const WavCue& b) { return a.sample < b.sample; });
        return std::move (info);
    }

private:
    void chunk (const std::string& word, const std::string& bytes)
    {
        if (word == "ds64")
            dataSize = little (bytes, 8, 8);
        else if (word == "fmt ")
        {
            info.channels = static_cast<int> (little (bytes, 2, 2));
            info.samplesPerSecond = static_cast<int> (std::min<std::uint64_t> (little (bytes, 4, 4), 1u << 30));
            frame = little (bytes, 12, 2);
            info.bits = static_cast<int> (little (bytes, 14, 2));
        }
        else if (word == "bext" && bytes.size() >= 346)
        {
            info.description = zeroText (std::string_view (bytes).substr (0, 256));
            info.originator = zeroText (std::string_view (bytes).substr (256, 32));
            info.timeReference = static_cast<std::int64_t> (little (bytes, 338, 8) & 0x7FFFFFFFFFFFFFFF);
        }
        else if (word == "cue ")
        {
            const auto count = std::min<std::uint64_t> (little (bytes, 0, 4), bytes.size() / 24);
            for (std::uint64_t i = 0; i < count; ++i)
            {
                const auto at = 4 + 24 * static_cast<std::size_t> (i);
                info.cues.push_back ({ static_cast<std::uint32_t> (little (bytes, at, 4)),
                                       static_cast<std::int64_t> (little (bytes, at + 20, 4)), "" });
            }
        }
        else if (word == "LIST" && bytes.substr (0, 4) == "adtl")
            list (bytes);
    }

    void list (const std::string& bytes)
    {
        for (std::size_t at = 4; at + 12 <= bytes.size();)
        {
            const auto word = bytes.substr (at, 4);
            const auto length =
                static_cast<std::size_t> (std::min<std::uint64_t> (little (bytes, at + 4, 4), bytes.size() - at - 8));
            const auto id = static_cast<std::uint32_t> (little (bytes, at + 8, 4));
            if (length >= 4 && word == "labl")
                labels.emplace (id, zeroText (std::string_view (bytes).substr (at + 12, length - 4)));
            else if (length >= 4 && word == "note")
                notesOfCues.emplace (id, zeroText (std::string_view (bytes).substr (at + 12, length - 4)));
            at += 8 + length + length % 2;
        }
    }

    const ReadAt& readAt;
    std::uint64_t size, dataSize = 0, data = 0, frame = 0;
    bool hasData = false;
    WavInfo info;
    std::map<std::uint32_t, std::string> labels, notesOfCues;
};
} // namespace

Result<WavInfo> readWavInfo (const ReadAt& readAt, std::uint64_t size)
{
    return WavReader (readAt, size).read();
}

Result<WavInfo> readWavInfo (std::string_view bytes)
{
    const ReadAt readAt = [bytes] (std::uint64_t offset, std::size_t count)
    { return offset < bytes.size() ? std::string (bytes.substr (static_cast<std::size_t> (offset), count)) : std::string(); };
    return readWavInfo (readAt, bytes.size());
}
} // namespace shutterbeat::exchange
