#include "cli/Command.h"
#include "desk/Doctor.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
nlohmann::ordered_json roomJson (const desk::Room& room)
{
    return { { "path", room.path }, { "writable", room.writable }, { "used_bytes", room.used }, { "free_bytes", room.freeBytes } };
}

void printJson (const Console& console, const desk::Examination& found)
{
    nlohmann::ordered_json json;
    json["lacking"] = found.lacking();
    json["findings"] = nlohmann::ordered_json::array();
    for (const auto& finding : found.findings)
        json["findings"].push_back ({ { "state", desk::findingStateName (finding.state) },
                                      { "area", finding.area },
                                      { "what", finding.what },
                                      { "package", finding.package } });
    json["cache"] = roomJson (found.cache);
    json["state"] = roomJson (found.state);
    json["temporary"] = roomJson (found.temporary);
    json["languages"] = found.languages;
    json["libav"] = found.libav;
    console.out << json.dump (2) << "\n";
}

void printText (const Console& console, const desk::Examination& found)
{
    std::string area, cures;
    for (const auto& finding : found.findings)
    {
        if (finding.area != area)
            console.out << finding.area << "\n";
        area = finding.area;
        const char* mark = finding.state == desk::Finding::State::well    ? "  here     "
                           : finding.state == desk::Finding::State::could ? "  optional "
                                                                          : "  LACKING  ";
        console.out << mark << finding.what << (finding.package.empty() ? "" : " (package " + finding.package + ")") << "\n";
        if (finding.state == desk::Finding::State::lacking && ! finding.package.empty()
            && (" " + cures + " ").find (" " + finding.package + " ") == std::string::npos)
            cures += (cures.empty() ? "" : " ") + finding.package;
    }
    if (! cures.empty())
        console.out << "\nTo cure it: apt-get install " << cures << "\n";
    else
        console.out << (found.lacking() ? "\nNo package cures what is lacking; see above.\n"
                                        : "\nNothing that is needed is lacking.\n");
}
} // namespace

void addDoctor (CLI::App& app, Action& chosen)
{
    auto json = std::make_shared<bool> (false);
    auto* command = app.add_subcommand ("doctor", "Says what this machine offers and lacks: sound, codecs, fonts, reading, room");
    command->footer ("Example: shutterbeat doctor\nExit status 1 when something that is needed is lacking.");
    command->add_flag ("--json", *json, "One JSON document");
    command->callback (
        [json, &chosen]
        {
            chosen = [json] (const Console& console)
            {
                const auto found = desk::examineMachine();
                *json ? printJson (console, found) : printText (console, found);
                return found.lacking() ? static_cast<int> (shutterbeat::cli::found) : static_cast<int> (done);
            };
        });
}
} // namespace shutterbeat::cli
