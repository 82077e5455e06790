#include "cli/Cli.h"
#include "desk/CrashNote.h"
#include "desk/Log.h"

#include <chrono>
#include <csignal>
#include <iostream>
#include <string>
#include <vector>

int main (int argc, char** argv)
{
    shutterbeat::desk::leaveNoteOnCrash();
    const auto begun = std::chrono::steady_clock::now();
    std::signal (SIGINT, [] (int) { shutterbeat::cli::stop(); });
    std::signal (SIGPIPE, SIG_IGN);
    std::vector<std::string> words (argv + 1, argv + argc);
    const int status = shutterbeat::cli::run (words, std::cout, std::cerr);
    std::cout.flush();
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begun;
    shutterbeat::desk::log (shutterbeat::desk::loggedCommand (words, status, took.count()));
    return std::cout ? status : static_cast<int> (shutterbeat::cli::notWritten);
}
