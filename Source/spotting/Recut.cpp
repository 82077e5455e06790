#include "spotting/Recut.h"

#include "spotting/Named.h"

namespace shutterbeat::spotting
{
namespace
{
constexpr std::array<std::string_view, 3> doubts{ "shot", "frame", "card" };
constexpr std::array<std::string_view, 3> answers{ "pending", "same", "other" };
} // namespace

std::string_view doubtName (Doubt doubt)
{
    return doubts[static_cast<std::size_t> (doubt)];
}

std::string_view answerName (Answer answer)
{
    return answers[static_cast<std::size_t> (answer)];
}

Result<Doubt> parseDoubt (std::string_view text)
{
    return named<Doubt> (doubts, "doubt", text);
}

Result<Answer> parseAnswer (std::string_view text)
{
    return named<Answer> (answers, "answer", text);
}
} // namespace shutterbeat::spotting
