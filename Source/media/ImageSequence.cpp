#include "media/ImageSequence.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <filesystem>
#include <map>
#include <string_view>
#include <utility>

namespace shutterbeat::media
{
namespace
{
namespace fs = std::filesystem;

bool isDigit (char letter)
{
    return letter >= '0' && letter <= '9';
}

/// A name taken apart round one of its runs of digits.
struct Numbered
{
    std::string head, tail;
    std::int64_t number = 0;
};

/// The runs of digits in a name without its ending, last one first; those too long to be a number are passed over.
std::vector<Numbered> readings (const std::string& name)
{
    std::vector<Numbered> found;
    auto end = name.rfind ('.');
    while (end > 0)
    {
        while (end > 0 && ! isDigit (name[end - 1]))
            --end;
        auto begin = end;
        while (begin > 0 && isDigit (name[begin - 1]))
            --begin;
        if (begin < end && end - begin <= 15)
        {
            Numbered reading{ name.substr (0, begin), name.substr (end), 0 };
            std::from_chars (name.data() + begin, name.data() + end, reading.number);
            found.push_back (std::move (reading));
        }
        end = begin;
    }
    return found;
}

/// The number in `name` when it is head, digits, tail.
std::optional<std::int64_t> numberIn (const std::string& name, const Numbered& series)
{
    const auto around = series.head.size() + series.tail.size();
    if (name.size() <= around || name.size() - around > 15 || ! name.starts_with (series.head) || ! name.ends_with (series.tail))
        return {};
    std::int64_t number = 0;
    const char* end = name.data() + name.size() - series.tail.size();
    const auto read = std::from_chars (name.data() + series.head.size(), end, number);
    if (read.ec != std::errc() || read.ptr != end || number < 0)
        return {};
    return number;
}

/// Every picture file of a folder, sorted by name. Those whose name begins with a dot are leavings of a system.
std::vector<std::string> picturesIn (const std::string& folder)
{
    std::vector<std::string> names;
    std::error_code trouble;
    for (fs::directory_iterator at (folder.empty() ? "." : folder, trouble), end; ! trouble && at != end; at.increment (trouble))
    {
        auto name = at->path().filename().string();
        if (! name.starts_with (".") && isPictureName (name))
            names.push_back (std::move (name));
    }
    std::sort (names.begin(), names.end());
    return names;
}

/// Of all ways to read the number in `name`, the one that most names of the folder share.
std::optional<Numbered> seriesOf (const std::string& name, const std::vector<std::string>& names)
{
    std::optional<Numbered> best;
    std::ptrdiff_t most = 0;
    for (auto& reading : readings (name))
    {
        const auto members = std::count_if (names.begin(), names.end(),
                                            [&] (const std::string& other) { return numberIn (other, reading).has_value(); });
        if (members > most)
        {
            most = members;
            best = std::move (reading);
        }
    }
    return best;
}

std::string counted (std::int64_t n, const std::string& thing)
{
    return std::to_string (n) + " " + thing + (n == 1 ? "" : "s");
}

/// Gaps as the user would look for them: "7, 12 to 15"; the first few.
std::string gapText (const ImageSequence& film)
{
    std::string text;
    int told = 0;
    for (std::int64_t k = 0; k < film.size(); ++k)
    {
        if (film.has (k))
            continue;
        auto last = k;
        while (last + 1 < film.size() && ! film.has (last + 1))
            ++last;
        if (++told > 5)
            return text + " and more";
        text += (text.empty() ? "" : ", ") + std::to_string (film.firstNumber + k)
                + (last > k ? " to " + std::to_string (film.firstNumber + last) : "");
        k = last;
    }
    return text;
}

using Members = std::map<std::int64_t, std::string>;

Result<ImageSequence> arranged (const std::string& path, std::string folder, const Members& members)
{
    ImageSequence film;
    film.folder = std::move (folder);
    film.firstNumber = members.begin()->first;
    const auto span = members.rbegin()->first - film.firstNumber + 1;
    const auto present = static_cast<std::int64_t> (members.size());
    if (span - present > std::max<std::int64_t> (1000, present))
        return unreadable (path, "numbers its pictures from " + std::to_string (film.firstNumber) + " to "
                                     + std::to_string (members.rbegin()->first) + ", but only " + std::to_string (present)
                                     + " of them are there; put those of one film in a folder of their own");
    film.names.resize (static_cast<std::size_t> (span));
    for (const auto& [number, name] : members)
        film.names[static_cast<std::size_t> (number - film.firstNumber)] = name;
    if (span > present)
        film.warnings.push_back (counted (span - present, "picture") + (span - present == 1 ? " is" : " are")
                                 + " missing in its numbering (" + gapText (film)
                                 + "); their places are kept and shown as damaged");
    return film;
}
} // namespace

std::int64_t ImageSequence::missing() const
{
    return std::count_if (names.begin(), names.end(), [] (const std::string& name) { return name.empty(); });
}

bool isPictureName (const std::string& name)
{
    const auto dot = name.rfind ('.');
    if (dot == std::string::npos)
        return false;
    std::string ending = name.substr (dot + 1);
    for (char& letter : ending)
        if (letter >= 'A' && letter <= 'Z')
            letter = static_cast<char> (letter - 'A' + 'a');
    constexpr std::array<std::string_view, 10> endings{ "dpx", "tif", "tiff", "png", "jpg", "jpeg", "jp2", "j2k", "j2c", "bmp" };
    return std::find (endings.begin(), endings.end(), ending) != endings.end();
}

Result<std::optional<ImageSequence>> findSequence (const std::string& path)
{
    std::error_code trouble;
    const bool isFolder = fs::is_directory (path, trouble);
    if (! isFolder && (! isPictureName (path) || ! fs::is_regular_file (path, trouble)))
        return std::optional<ImageSequence>();

    const auto slash = path.rfind ('/');
    std::string folder = slash == std::string::npos ? "" : path.substr (0, slash + 1);
    if (isFolder)
        folder = path.ends_with ('/') ? path : path + "/";
    const auto names = picturesIn (folder);
    const std::string named = isFolder ? "" : path.substr (folder.size());
    // The first name in a folder that has a number at all.
    auto series = isFolder ? std::optional<Numbered>() : seriesOf (named, names);
    for (std::size_t i = 0; isFolder && ! series && i < names.size(); ++i)
        series = seriesOf (names[i], names);
    if (! series && isFolder)
        return unreadable (path, "is a folder without numbered pictures; name the film file inside it");
    if (! series)
        return std::optional<ImageSequence>();

    Members members;
    std::vector<std::string> others;
    std::int64_t earlier = 0;
    const auto from = isFolder ? std::int64_t (0) : *numberIn (named, *series);
    for (const auto& name : names)
    {
        const auto number = numberIn (name, *series);
        if (! number)
            others.push_back (name);
        else if (*number < from)
            ++earlier;
        else if (! members.emplace (*number, name).second)
            return unreadable (path, "has two pictures with the number " + std::to_string (*number) + " (" + members[*number]
                                         + " and " + name + "); move one of them away");
    }
    if (isFolder)
        for (const auto& other : others)
            if (const auto second = seriesOf (other, others); second)
                if (std::count_if (others.begin(), others.end(),
                                   [&] (const std::string& name) { return numberIn (name, *second).has_value(); })
                    > 1)
                    return unreadable (path, "holds more than one series of pictures (" + members.begin()->second + " and " + other
                                                 + "); name the first picture of the one that is meant");
    auto film = arranged (path, std::move (folder), members);
    if (! film)
        return film.error();
    if (isFolder && ! others.empty())
        film->warnings.push_back (counted (static_cast<std::int64_t> (others.size()), "other picture")
                                  + " in the folder left aside (" + others.front() + (others.size() > 1 ? " and others" : "")
                                  + ")");
    if (earlier > 0)
        film->warnings.push_back ("begins with the picture that was named, number " + std::to_string (from) + "; "
                                  + counted (earlier, "picture") + " with a lower number left out");
    return std::optional (std::move (film.value()));
}
} // namespace shutterbeat::media
