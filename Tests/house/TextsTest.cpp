#include "Catch.h"
#include "TrackedFiles.h"

#include <algorithm>
#include <array>

using namespace shutterbeat::tests;

namespace
{
/// Words written in two halves, so that this file does not find itself.
std::string word (const char* first, const char* second)
{
    return std::string (first) + second;
}

bool isLetter (char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
}

/// True where `text` has `what` as a word of its own.
bool hasWord (const std::string& text, const std::string& what)
{
    for (auto at = text.find (what); at != std::string::npos; at = text.find (what, at + 1))
        if ((at == 0 || ! isLetter (text[at - 1])) && (at + what.size() == text.size() || ! isLetter (text[at + what.size()])))
            return true;
    return false;
}

/// What a text that goes out must not hold, in words; empty when it is fit.
std::string unfit (const std::string& text)
{
    for (const auto& mark : { word ("TO", "DO"), word ("FIX", "ME"), word ("XX", "X") })
        if (hasWord (text, mark))
            return "holds the leftover marker " + mark;
    for (const auto& mark : { word ("<<<<", "<<<"), word (">>>>", ">>>") })
        if (text.rfind (mark, 0) == 0 || text.find ("\n" + mark) != std::string::npos)
            return "holds the mark of an unfinished merge";
    for (const auto& path : { word ("/wo", "rk/"), word ("/tmp", "/sb"), word ("/ro", "ot/"), word ("registry.", "npmjs"),
                              std::string (SHUTTERBEAT_SOURCE_DIR "/"), std::string (SHUTTERBEAT_BINARY_DIR "/") })
        if (text.find (path) != std::string::npos)
            return "names " + path + ", which is of one machine only";
    return "";
}

bool isText (const std::string& bytes)
{
    return bytes.find ('\0') == std::string::npos;
}
} // namespace

TEST_CASE ("No text of the project names a path of one machine or holds a leftover marker")
{
    std::size_t seen = 0;
    for (const auto& path : trackedFiles())
    {
        const auto text = readTracked (path);
        if (! isText (text))
            continue;
        ++seen;
        if (const auto why = unfit (text); ! why.empty())
            FAIL_CHECK (path << " " << why);
    }
    CHECK (seen > 60);
}

TEST_CASE ("The check of the texts can fail")
{
    CHECK_FALSE (unfit ("// " + word ("TO", "DO") + ": later\n").empty());
    CHECK_FALSE (unfit ("a\n" + word ("<<<<", "<<<") + " one\n").empty());
    CHECK_FALSE (unfit ("cd " + word ("/wo", "rk/") + "there\n").empty());
    CHECK_FALSE (unfit (std::string ("see ") + SHUTTERBEAT_SOURCE_DIR + "/README\n").empty());
    CHECK (unfit ("a framework/x, " + word ("TO", "DO") + "S of none, out << text >> in\n").empty());
}

TEST_CASE ("No test has a semicolon in its name: CMake would take it for two names, and run neither")
{
    const std::string begin = "TEST_CASE (\"";
    std::size_t seen = 0;
    for (const auto& path : trackedFiles())
    {
        if (path.rfind ("Tests/", 0) != 0 || path.size() < 4 || path.substr (path.size() - 4) != ".cpp")
            continue;
        const auto text = readTracked (path);
        for (auto at = text.find (begin); at != std::string::npos; at = text.find (begin, at + 1))
        {
            const auto from = at + begin.size();
            const auto name = text.substr (from, text.find ('"', from) - from);
            ++seen;
            if (name.find (';') != std::string::npos)
                FAIL_CHECK (path << ": " << name);
        }
    }
    CHECK (seen > 700);
}

TEST_CASE ("Files stay short enough to be read in one go")
{
    for (const auto& path : trackedFiles())
    {
        const auto dot = path.rfind ('.');
        const auto end = dot == std::string::npos ? "" : path.substr (dot);
        if (end != ".cpp" && end != ".h")
            continue;
        const auto text = readTracked (path);
        const auto lines = std::count (text.begin(), text.end(), '\n');
        if (lines > 500)
            FAIL_CHECK (path << " has " << lines << " lines; one idea a file, some 400 lines at most");
        else if (lines > 400)
            WARN (path << " has " << lines << " lines");
    }
}
