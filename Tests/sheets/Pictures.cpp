#include "Catch.h"

#include "sheets/Picture.h"

using namespace shutterbeat::sheets;

TEST_CASE ("pictures are averaged down and keep their shape")
{
    SheetPicture picture{ 400, 300, true, std::vector<std::uint8_t> (400 * 300, 100) };
    for (std::size_t i = 0; i < picture.bytes.size(); i += 2)
        picture.bytes[i] = 200;
    const auto small = smaller (picture, 100, 100);
    CHECK (small.width == 100);
    CHECK (small.height == 75);
    CHECK (small.whole());
    CHECK (std::all_of (small.bytes.begin(), small.bytes.end(), [] (int value) { return value == 150; }));
    const auto tall = smaller ({ 10, 1000, false, std::vector<std::uint8_t> (30000, 7) }, 200, 150);
    CHECK (tall.height == 150);
    CHECK (tall.width == 2);
    CHECK (tall.bytes == std::vector<std::uint8_t> (900, 7));
    CHECK (smaller (picture, 400, 300).bytes == picture.bytes);
    CHECK_FALSE (SheetPicture{ 4, 4, false, std::vector<std::uint8_t> (16) }.whole());
}
