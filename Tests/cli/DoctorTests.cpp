#include "cli/Bench.h"

#include <algorithm>
#include <sys/wait.h>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// The program itself, in an environment of its own: its exit status and what it printed.
Ran program (const Folder& folder, const std::string& environment, const std::string& words)
{
    const auto command = "env " + environment + " XDG_STATE_HOME='" + (folder / "state") + "' "
                         + SHUTTERBEAT_BINARY_DIR "/shutterbeat " + words + " >'" + (folder / "out") + "' 2>'" + (folder / "err")
                         + "'";
    const int status = std::system (command.c_str());
    return { WEXITSTATUS (status), readFile (folder / "out"), readFile (folder / "err") };
}

bool cures (const nlohmann::json& json, const std::string& package)
{
    return std::any_of (json["findings"].begin(), json["findings"].end(),
                        [&] (const auto& f) { return f["package"] == package && f["state"] != "well"; });
}
} // namespace

TEST_CASE ("doctor --json is one document, and its exit status says whether something is lacking")
{
    const auto ran = run ({ "doctor", "--json" });
    const auto json = ran.json();
    CHECK (ran.err.empty());
    CHECK (json["lacking"] == (ran.status == 1));
    CHECK ((ran.status == 0 || ran.status == 1));
    CHECK (json["cache"]["free_bytes"].get<std::uint64_t>() > 0);
    CHECK (run ({ "doctor" }).out.find ("codecs\n") != std::string::npos);
}

TEST_CASE ("The doctor sees what is taken away and names the package that cures it")
{
    const Folder folder;
    writeFile (folder / "fonts.conf",
               "<?xml version=\"1.0\"?><!DOCTYPE fontconfig SYSTEM \"urn:fontconfig:fonts.dtd\"><fontconfig/>");
    auto ran = program (folder, "FONTCONFIG_FILE='" + (folder / "fonts.conf") + "'", "doctor --json");
    CHECK (ran.status == 1);
    for (const char* package : { "fonts-inter", "fonts-jetbrains-mono", "fonts-ebgaramond" })
        CHECK (cures (ran.json(), package));
    ran = program (folder, "TESSDATA_PREFIX='" + folder.path.string() + "'", "doctor");
    CHECK (ran.status == 1);
    CHECK (ran.out.find ("tesseract-ocr-eng") != std::string::npos);
    CHECK (ran.out.find ("apt-get install ") != std::string::npos);
    ran = program (folder, "XDG_CACHE_HOME=/proc/nothing", "doctor --json");
    CHECK (ran.json()["cache"]["path"] == "/proc/nothing/shutterbeat");
}

TEST_CASE ("Each run of the program leaves one line in the log")
{
    const Folder folder;
    CHECK (program (folder, "", "times '" + (folder / "none.shutterbeat") + "'").status == 3);
    CHECK (program (folder, "", "scan").status == 2);
    const auto log = readFile (folder / "state/shutterbeat/log");
    CHECK (std::count (log.begin(), log.end(), '\n') == 2);
    CHECK (log.find (" times, status 3, ") != std::string::npos);
    CHECK (log.find (" scan, status 2, ") != std::string::npos);
    CHECK (log.find ("none") == std::string::npos);
}
