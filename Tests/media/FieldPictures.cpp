#include "media/FieldPictures.h"

#include "media/NumberedFilm.h"

#include <cstdint>

namespace shutterbeat::tests
{
namespace
{
/// Bits of a raw byte sequence payload, highest first.
class Bits
{
public:
    void put (std::uint32_t value, int count)
    {
        for (int i = count - 1; i >= 0; --i)
        {
            pending = static_cast<std::uint8_t> (pending << 1 | (value >> i & 1));
            if (++filled == 8)
            {
                bytes.push_back (static_cast<char> (pending));
                pending = 0;
                filled = 0;
            }
        }
    }
    /// ue(v): Exp-Golomb, clause 9.1.
    void number (std::uint32_t value)
    {
        int length = 0;
        while ((value + 1) >> (length + 1) != 0)
            ++length;
        put (0, length);
        put (value + 1, length + 1);
    }
    void align()
    {
        while (filled != 0)
            put (0, 1);
    }
    void byte (char value) { put (static_cast<std::uint8_t> (value), 8); }

    /// As a NAL unit with start code, stop bit and emulation prevention (clause 7.3.1).
    std::string unit (std::uint8_t header)
    {
        put (1, 1);
        align();
        std::string out{ '\0', '\0', '\0', '\1', static_cast<char> (header) };
        int zeros = 0;
        for (const char value : bytes)
        {
            if (zeros >= 2 && static_cast<std::uint8_t> (value) <= 3)
            {
                out.push_back ('\3');
                zeros = 0;
            }
            out.push_back (value);
            zeros = value == 0 ? zeros + 1 : 0;
        }
        return out;
    }

private:
    std::string bytes;
    std::uint8_t pending = 0;
    int filled = 0;
};

constexpr int across = filmWidth / 16;
constexpr int fieldRows = 4; // of macroblocks: 64 lines of which 60 are shown

std::string parameterSets()
{
    Bits sequence;
    sequence.put (77, 8); // Main profile
    sequence.put (0, 8);
    sequence.put (30, 8);
    sequence.number (0);
    sequence.number (0); // frame_num: 4 bits
    sequence.number (0);
    sequence.number (4); // picture order count: 8 bits
    sequence.number (1);
    sequence.put (0, 1);
    sequence.number (across - 1);
    sequence.number (fieldRows - 1);
    sequence.put (0, 2); // fields allowed, no mixing inside a frame
    sequence.put (1, 1);
    sequence.put (1, 1); // cropping: 8 lines in units of 4
    for (const std::uint32_t crop : { 0U, 0U, 0U, 2U })
        sequence.number (crop);
    sequence.put (1, 1); // usability information
    sequence.put (0, 4);
    sequence.put (1, 1);
    sequence.put (1, 32); // a tick is a field at 50 a second
    sequence.put (50, 32);
    sequence.put (1, 1);
    sequence.put (0, 3);
    sequence.put (1, 1);
    sequence.put (1, 1);
    for (const std::uint32_t limit : { 0U, 0U, 10U, 10U, 0U, 1U })
        sequence.number (limit);

    Bits picture;
    picture.number (0);
    picture.number (0);
    picture.put (0, 2);
    for (int i = 0; i < 3; ++i)
        picture.number (0);
    picture.put (0, 3);
    for (int i = 0; i < 3; ++i)
        picture.number (0);
    picture.put (4, 3); // deblocking is switched in the slices
    return sequence.unit (0x67) + picture.unit (0x68);
}

/// One plane's part of a macroblock, every second line of the frame; past its last line the last is repeated.
void putBlock (Bits& bits, const char* plane, int width, int height, int size, int column, int row, bool bottom)
{
    for (int y = 0; y < size; ++y)
    {
        int line = 2 * (row * size + y) + (bottom ? 1 : 0);
        while (line >= height)
            line -= 2;
        for (int x = 0; x < size; ++x)
            bits.byte (plane[line * width + column * size + x]);
    }
}

std::string field (const char* picture, int frame, int group, bool bottom)
{
    const int place = frame % group;
    const bool key = place == 0 && ! bottom;
    Bits slice;
    slice.number (0);
    slice.number (7); // all slices intra
    slice.number (0);
    slice.put (static_cast<std::uint32_t> (place % 16), 4);
    slice.put (1, 1);
    slice.put (bottom ? 1 : 0, 1);
    if (key)
        slice.number (static_cast<std::uint32_t> (frame / group % 2));
    slice.put (static_cast<std::uint32_t> (2 * place + (bottom ? 1 : 0)), 8);
    slice.put (0, key ? 2 : 1);
    slice.number (0);
    slice.number (1); // no deblocking
    const char* blue = picture + filmWidth * filmHeight;
    const char* red = blue + filmWidth * filmHeight / 4;
    for (int row = 0; row < fieldRows; ++row)
        for (int column = 0; column < across; ++column)
        {
            slice.number (25); // I_PCM
            slice.align();
            putBlock (slice, picture, filmWidth, filmHeight, 16, column, row, bottom);
            putBlock (slice, blue, filmWidth / 2, filmHeight / 2, 8, column, row, bottom);
            putBlock (slice, red, filmWidth / 2, filmHeight / 2, 8, column, row, bottom);
        }
    return slice.unit (key ? 0x25 : 0x21);
}
} // namespace

std::string fieldCoded (const std::string& raw, int count, int group)
{
    std::string stream;
    for (int k = 0; k < count; ++k)
    {
        const char* picture = raw.data() + std::size_t (k) * filmWidth * filmHeight * 3 / 2;
        if (k % group == 0)
            stream += parameterSets();
        stream += field (picture, k, group, false) + field (picture, k, group, true);
    }
    return stream;
}
} // namespace shutterbeat::tests
