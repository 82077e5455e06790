#pragma once

#include "Catch.h"

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <regex>
#include <string>
#include <unistd.h>
#include <vector>

namespace shutterbeat::tests
{
/// What a poppler program says of a PDF.
inline std::string poppler (const std::string& program, const std::string& pdf, const std::string& tail = "")
{
    const auto path =
        (std::filesystem::temp_directory_path() / ("shutterbeat-notes-" + std::to_string (getpid()) + ".pdf")).string();
    {
        std::ofstream file (path, std::ios::binary);
        file << pdf;
        REQUIRE (file.good());
    }
    FILE* pipe = popen ((program + " '" + path + "' " + tail).c_str(), "r");
    REQUIRE (pipe != nullptr);
    std::string text;
    std::array<char, 4096> piece{};
    for (std::size_t got = 0; (got = fread (piece.data(), 1, piece.size(), pipe)) > 0;)
        text.append (piece.data(), got);
    const int status = pclose (pipe);
    std::filesystem::remove (path);
    INFO (program << " is in the Debian package poppler-utils");
    REQUIRE (status == 0);
    return text;
}

struct Word
{
    double left, top, right, bottom;
    std::string text;
};

/// Pages of words with their boxes.
inline std::vector<std::vector<Word>> boxesOf (const std::string& pdf)
{
    const auto html = poppler ("pdftotext -bbox", pdf, "-");
    std::vector<std::vector<Word>> pages;
    const std::regex pattern (
        "<page |<word xMin=\"([0-9.-]+)\" yMin=\"([0-9.-]+)\" xMax=\"([0-9.-]+)\" yMax=\"([0-9.-]+)\">(.*)</word>");
    for (std::sregex_iterator match (html.begin(), html.end(), pattern), end; match != end; ++match)
    {
        if (! (*match)[1].matched)
            pages.emplace_back();
        else
        {
            const auto number = [&] (std::size_t i) { return time::toDouble (*time::parseRational ((*match)[i].str())); };
            pages.back().push_back ({ number (1), number (2), number (3), number (4), (*match)[5].str() });
        }
    }
    return pages;
}
} // namespace shutterbeat::tests
