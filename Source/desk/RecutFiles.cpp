#include "desk/RecutFiles.h"

#include "store/WholeFile.h"

#include <nlohmann/json.hpp>

namespace shutterbeat::desk
{
Result<std::vector<spotting::Decision>> readDecisions (const std::string& path)
{
    const auto bytes = store::readWhole (path);
    if (! bytes)
        return bytes.error();
    return parseDecisions (*bytes, path);
}

Result<std::vector<spotting::Decision>> parseDecisions (std::string_view text, const std::string& path)
{
    const auto json = nlohmann::json::parse (text, nullptr, false);
    constexpr const char* form = "has to be {\"decisions\": [{\"match\": \"B-1\", \"answer\": \"same\" or \"other\"}]}";
    if (json.is_discarded() || ! json.is_object() || ! json.contains ("decisions") || ! json["decisions"].is_array())
        return unreadable (path, form);
    std::vector<spotting::Decision> decisions;
    for (const auto& one : json["decisions"])
    {
        const std::string where = path + ": decisions[" + std::to_string (decisions.size()) + "]";
        if (! one.is_object() || ! one.contains ("match") || ! one["match"].is_string() || ! one.contains ("answer")
            || ! one["answer"].is_string())
            return unreadable (where, "needs a \"match\" and an \"answer\", both text");
        spotting::Decision decision;
        decision.match = one["match"].get<std::string>();
        const auto answer = spotting::parseAnswer (one["answer"].get<std::string>());
        if (! answer)
            return unreadable (where, answer.error().text());
        decision.answer = *answer;
        if (one.contains ("moved"))
        {
            if (! one["moved"].is_number_integer() || std::abs (one["moved"].get<double>()) > 1e9)
                return unreadable (where, "\"moved\" has to be a whole number of film frames");
            decision.moved = one["moved"].get<std::int64_t>();
        }
        decisions.push_back (std::move (decision));
    }
    return decisions;
}
} // namespace shutterbeat::desk
