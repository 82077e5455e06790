#include "spotting/Ids.h"

#include <algorithm>

namespace shutterbeat::spotting
{
namespace
{
bool isWord (const std::string& text)
{
    return ! text.empty()
           && std::all_of (text.begin(), text.end(),
                           [] (char c)
                           { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_'; });
}
} // namespace

Result<std::vector<std::string>> takeIds (Book& book, const std::string& person, std::size_t count)
{
    if (! isWord (person))
        return usageError ("person \"" + person + "\"", "use letters, digits and underscores, such as anna");
    if (count == 0)
        return std::vector<std::string>{};
    auto people = book.people.list();
    auto found = std::find_if (people.begin(), people.end(), [&] (const Person& p) { return p.id == person; });
    if (found == people.end())
    {
        people.push_back ({ person, person, "", 0, {} });
        found = people.end() - 1;
    }
    std::vector<std::string> ids;
    for (std::size_t i = 0; i < count; ++i)
        ids.push_back (person + "-" + std::to_string (++found->lastNumber));
    book.people = std::move (people);
    return ids;
}
} // namespace shutterbeat::spotting
