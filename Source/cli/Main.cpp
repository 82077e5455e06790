#include "cli/Cli.h"

#include <csignal>
#include <iostream>
#include <string>
#include <vector>

int main (int argc, char** argv)
{
    std::signal (SIGINT, [] (int) { shutterbeat::cli::stop(); });
    std::signal (SIGPIPE, SIG_IGN);
    std::vector<std::string> words (argv + 1, argv + argc);
    const int status = shutterbeat::cli::run (words, std::cout, std::cerr);
    std::cout.flush();
    return std::cout ? status : static_cast<int> (shutterbeat::cli::notWritten);
}
