#include "fuzz/Target.h"

#include "film/ChangeList.h"

using namespace shutterbeat;

namespace
{
/// Bytes as small numbers; zero when they run out.
class Numbers
{
public:
    Numbers (const std::uint8_t* data, std::size_t size)
        : at (data)
        , left (size)
    {
    }
    std::int64_t small()
    {
        if (left == 0)
            return 0;
        --left;
        return *at++;
    }

private:
    const std::uint8_t* at;
    std::size_t left;
};

film::Edition edition (Numbers& numbers)
{
    film::Edition made;
    const auto shots = numbers.small() % 12;
    for (std::int64_t i = 0; i < shots; ++i)
    {
        film::Shot shot;
        shot.id = "s" + std::to_string (numbers.small() % 32);
        shot.print = std::string (1, static_cast<char> ('a' + numbers.small() % 4));
        shot.first = numbers.small() * 4;
        shot.end = shot.first + 1 + numbers.small();
        if (numbers.small() % 7 == 0)
            shot.made = time::Rational (1 + numbers.small(), 25);
        made.shots.push_back (shot);
    }
    return made;
}
} // namespace

/// Two editions and what their prints are known to share, made from the bytes: every picture of the new one is accounted for once.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    Numbers numbers (data, size);
    const auto before = edition (numbers), after = edition (numbers);
    std::vector<film::SamePictures> known;
    for (auto left = numbers.small() % 8; left > 0; --left)
    {
        film::SamePictures same;
        same.print = std::string (1, static_cast<char> ('a' + numbers.small() % 4));
        same.first = numbers.small() * 4;
        same.other = std::string (1, static_cast<char> ('a' + numbers.small() % 4));
        same.otherFirst = numbers.small() * 4;
        same.frames = 1 + numbers.small() * 8;
        known.push_back (same);
    }
    const auto list = film::changeList (before, after, known);
    std::int64_t shown = 0;
    for (const auto& change : list.changes)
        if (change.newFirst >= 0)
        {
            fuzz::must (change.newFirst == shown, "the changes follow one another through the new edition");
            shown += change.frames;
        }
    fuzz::must (shown == list.newFrames, "every picture of the new edition is accounted for");
    fuzz::must (film::shotFates (list, before, after).size() == before.shots.size(), "every old shot has a fate");
    for (std::int64_t frame = 0; frame < list.oldFrames; frame += 1 + list.oldFrames / 16)
        if (const auto now = list.newFrameOf (frame))
            fuzz::must (*now >= 0 && *now < list.newFrames && list.oldFrameOf (*now).has_value(),
                        "a picture that is kept is found");
    (void)film::sameElsewhere (known, { "a", numbers.small() * 4 });
    return 0;
}
