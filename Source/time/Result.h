#pragma once

#include <string>
#include <utility>
#include <variant>

namespace shutterbeat
{
/// What kind of failure an Error is; the headless commands turn it into their exit status.
enum class ErrorCode
{
    usage,       ///< the words typed are wrong, or name what is not there
    unreadable,  ///< an input can't be read or understood
    cannotWrite, ///< an output can't be written
    conflict,    ///< somebody else wrote the same book meanwhile
    overflow,    ///< exact arithmetic ran out of room
    cancelled    ///< the user stopped it
};

/// One failure: where (a file, an option, a field) and one sentence that says what happened and what to do.
struct Error
{
    ErrorCode code = ErrorCode::usage;
    std::string where;
    std::string message;

    /// "where: message", or the message alone when there is no place to name.
    [[nodiscard]] std::string text() const { return where.empty() ? message : where + ": " + message; }
};

/// A value or an Error. Exceptions never cross a folder; this does.
template <class T>
class [[nodiscard]] Result
{
public:
    Result (T value)
        : state (std::in_place_index<0>, std::move (value))
    {
    }
    Result (Error error)
        : state (std::in_place_index<1>, std::move (error))
    {
    }

    [[nodiscard]] bool ok() const { return state.index() == 0; }
    explicit operator bool() const { return ok(); }

    /// The value; only when ok().
    [[nodiscard]] const T& value() const& { return std::get<0> (state); }
    [[nodiscard]] T& value() & { return std::get<0> (state); }
    [[nodiscard]] T&& value() && { return std::get<0> (std::move (state)); }
    const T& operator*() const& { return value(); }
    T& operator*() & { return value(); }
    T&& operator*() && { return std::move (*this).value(); }
    const T* operator->() const { return &value(); }
    T* operator->() { return &value(); }

    /// The error; only when not ok().
    [[nodiscard]] const Error& error() const { return std::get<1> (state); }

private:
    std::variant<T, Error> state;
};

/// The value of a Result that carries none.
struct Done
{
};

inline Error usageError (std::string where, std::string message)
{
    return { ErrorCode::usage, std::move (where), std::move (message) };
}

inline Error unreadable (std::string where, std::string message)
{
    return { ErrorCode::unreadable, std::move (where), std::move (message) };
}

inline Error cannotWrite (std::string where, std::string message)
{
    return { ErrorCode::cannotWrite, std::move (where), std::move (message) };
}
} // namespace shutterbeat
