#include "desk/CrashNote.h"
#include "desk/Doctor.h"
#include "desk/Log.h"
#include "desk/StateFolder.h"

#include "Catch.h"
#include "media/NumberedFilm.h"

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace shutterbeat;
using namespace shutterbeat::tests;
namespace fs = std::filesystem;

TEST_CASE ("The log is small, is turned over, and holds no words of the user")
{
    const TestFolder folder;
    ::setenv ("XDG_STATE_HOME", folder.path ("state").c_str(), 1);
    REQUIRE (desk::stateFolder() == folder.path ("state/shutterbeat"));
    ::unsetenv ("SHUTTERBEAT_LOG_WORDS");
    const std::vector<std::string> words{ "hits", "/films/secret-title.shutterbeat", "add", "--label", "The kiss" };
    CHECK (desk::loggedCommand (words, 3, 0.25) == "hits, status 3, 250 ms");
    CHECK (desk::loggedCommand ({ "/films/secret-title.shutterbeat" }, 2, 0) == "(no command), status 2, 0 ms");
    ::setenv ("SHUTTERBEAT_LOG_WORDS", "1", 1);
    CHECK (desk::loggedCommand (words, 0, 0).find ("The kiss") != std::string::npos);
    ::unsetenv ("SHUTTERBEAT_LOG_WORDS");
    for (int i = 0; i < 20'000; ++i)
        desk::log (desk::loggedCommand (words, 0, i));
    std::uintmax_t all = 0;
    int files = 0;
    for (const auto& entry : fs::directory_iterator (desk::stateFolder()))
    {
        ++files;
        all += entry.file_size();
        CHECK (entry.file_size() < 256 * 1024 + 4096);
        const auto text = bytesOf (entry.path().string());
        CHECK (text.find ("secret") == std::string::npos);
        CHECK (text.find ("hits, status 0") != std::string::npos);
    }
    CHECK (files == 3);
    CHECK (all > 512 * 1024);
    desk::log ("two\nlines");
    CHECK (bytesOf (desk::stateFolder() + "/log").find ("two lines\n") != std::string::npos);
}

TEST_CASE ("A state folder that can't be had is no fault")
{
    ::setenv ("XDG_STATE_HOME", "/dev/null/none", 1);
    desk::log ("nothing");
    CHECK_FALSE (desk::takeCrashNote());
    ::setenv ("XDG_STATE_HOME", "relative", 1);
    ::setenv ("HOME", "/home/anna", 1);
    CHECK (desk::stateFolder() == "/home/anna/.local/state/shutterbeat");
    ::unsetenv ("HOME");
    CHECK (desk::stateFolder().empty());
    desk::log ("nothing");
    desk::leaveNoteOnCrash();
}

TEST_CASE ("A crash leaves a note that says where the autosave is, and ends as a crash")
{
    const TestFolder folder;
    ::setenv ("XDG_STATE_HOME", folder.path ("state").c_str(), 1);
    const auto crash = [] (int signal, const std::string& autosave)
    {
        const auto child = ::fork();
        REQUIRE (child >= 0);
        if (child == 0)
        {
            const rlimit none{ 0, 0 };
            ::setrlimit (RLIMIT_CORE, &none);
            desk::leaveNoteOnCrash();
            if (! autosave.empty())
                desk::nameAutosave (autosave);
            ::raise (signal);
            ::_exit (0);
        }
        int status = 0;
        ::waitpid (child, &status, 0);
        CHECK (WIFSIGNALED (status));
        CHECK (WTERMSIG (status) == signal);
    };
    CHECK_FALSE (desk::takeCrashNote());
    crash (SIGABRT, "");
    auto note = desk::takeCrashNote();
    REQUIRE (note);
    CHECK (note->find ("signal 6") != std::string::npos);
    CHECK (note->find ("no autosave") != std::string::npos);
    crash (SIGSEGV, "/home/anna/Ærø.shutterbeat.autosave");
    note = desk::takeCrashNote();
    REQUIRE (note);
    CHECK (note->find ("/home/anna/Ærø.shutterbeat.autosave\n") != std::string::npos);
    CHECK_FALSE (desk::takeCrashNote());
}

TEST_CASE ("The doctor names every area, where things lie, and a cure for what has one")
{
    const TestFolder folder;
    ::setenv ("XDG_CACHE_HOME", folder.path ("cache").c_str(), 1);
    ::setenv ("XDG_STATE_HOME", folder.path ("state").c_str(), 1);
    fs::create_directories (folder.path ("cache/shutterbeat/index"));
    writeBytes (folder.path ("cache/shutterbeat/index/a"), std::string (12'345, 'x'));
    const auto found = desk::examineMachine();
    CHECK (found.cache.path == folder.path ("cache/shutterbeat"));
    CHECK (found.cache.used == 12'345);
    CHECK (found.cache.writable);
    CHECK (found.cache.freeBytes > 0);
    CHECK_FALSE (fs::exists (folder.path ("state"))); // looking makes nothing
    for (const char* area : { "sound", "codecs", "fonts", "reading", "cache", "disk", "state" })
    {
        INFO (area);
        CHECK (std::any_of (found.findings.begin(), found.findings.end(), [&] (const auto& f) { return f.area == area; }));
    }
    for (const auto& finding : found.findings)
    {
        INFO (finding.what);
        CHECK_FALSE (finding.what.empty());
        CHECK ((finding.package.empty() || finding.state != desk::Finding::State::well));
    }
}
