#pragma once

#include <functional>
#include <string>
#include <vector>

namespace shutterbeat::window
{
/// What the message line says. It stays until something newer takes its place or it is put away.
struct Message
{
    enum class Kind
    {
        none,
        note,   ///< done, or worth knowing
        problem ///< did not work; says what to do
    };
    Kind kind = Kind::none;
    std::string text;
};

/// One answer to a question, and what it does.
struct Choice
{
    std::string id;    ///< of its button: "save"
    std::string label; ///< "Save and close"
    std::function<void()> chosen;
};

/// A decision that the user has to make before something goes on; asked in place, never in a box of its own.
struct Question
{
    std::string title;
    std::string text;
    std::vector<Choice> choices; ///< the first is the safe one
};
} // namespace shutterbeat::window
