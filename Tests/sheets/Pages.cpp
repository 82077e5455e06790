#include "Catch.h"

#include "sheets/Page.h"

using namespace shutterbeat::sheets;

namespace
{
Block block (double height, bool keep = false, double before = 0)
{
    Block b;
    b.height = height;
    b.keepWithNext = keep;
    b.spaceBefore = before;
    return b;
}

std::vector<std::size_t> counts (const std::vector<Block>& blocks)
{
    std::vector<std::size_t> sizes;
    for (const auto& page : paginate (blocks, 100))
        sizes.push_back (page.size());
    return sizes;
}
} // namespace

TEST_CASE ("a heading goes with what it heads")
{
    CHECK (counts ({ block (60), block (20, true), block (30) }) == std::vector<std::size_t>{ 1, 2 });
    CHECK (counts ({ block (60), block (20), block (30) }) == std::vector<std::size_t>{ 2, 1 });
    CHECK (counts ({ block (50), block (50) }) == std::vector<std::size_t>{ 2 });
    CHECK (counts ({ block (50), block (50, false, 1) }) == std::vector<std::size_t>{ 1, 1 });
}

TEST_CASE ("chains and blocks higher than a page still end")
{
    CHECK (counts ({ block (40, true), block (40, true), block (40, true), block (40) }) == std::vector<std::size_t>{ 2, 2 });
    CHECK (counts ({ block (150), block (10) }) == std::vector<std::size_t>{ 1, 1 });
    CHECK (counts ({}).empty());
}

TEST_CASE ("a heading is repeated where its rows go on")
{
    const auto heading = std::make_shared<const Block> (block (20));
    std::vector<Block> blocks{ block (10, true) };
    for (int i = 0; i < 4; ++i)
    {
        blocks.push_back (block (40));
        blocks.back().heading = heading;
    }
    const auto pages = paginate (blocks, 100);
    REQUIRE (pages.size() == 2);
    CHECK (pages[0].size() == 3);
    CHECK (pages[1].size() == 3);
    CHECK (pages[1][0].block == heading.get());
    CHECK (pages[1][1].top == 20);
}

TEST_CASE ("no page is fuller than it is high, and every block is there once in order")
{
    CHECK_PROPERTY (
        [] (const std::vector<std::pair<unsigned char, bool>>& wanted)
        {
            std::vector<Block> blocks;
            for (const auto& [height, keep] : wanted)
                blocks.push_back (block (1 + height % 90, keep, height % 7));
            std::size_t next = 0;
            for (const auto& page : paginate (blocks, 100))
                for (const auto& placed : page)
                    if (placed.block != &blocks[next++] || placed.top + placed.block->height > 100)
                        return false;
            return next == blocks.size();
        });
}
