#include "desk/Doctor.h"

#include "desk/StateFolder.h"
#include "media/Codecs.h"
#include "media/IndexCache.h"
#include "reading/CardReader.h"
#include "sheets/Fonts.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sys/statvfs.h>
#include <unistd.h>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;
using State = Finding::State;
constexpr std::uint64_t little = std::uint64_t{ 1 } << 30;

std::string sizeText (std::uint64_t bytes)
{
    constexpr std::uint64_t mega = 1'000'000;
    if (bytes < mega)
        return std::to_string (bytes / 1000) + " kB";
    return bytes < 10'000 * mega ? std::to_string (bytes / mega) + " MB" : std::to_string (bytes / (1000 * mega)) + " GB";
}

/// Sound cards of the kernel, as "Intel PCH": the names in /proc/asound/cards.
std::vector<std::string> soundCards()
{
    std::vector<std::string> names;
    std::ifstream list ("/proc/asound/cards");
    for (std::string line; std::getline (list, line);)
        if (const auto dash = line.find (" - "); dash != std::string::npos && line.find (']') != std::string::npos)
            names.push_back (line.substr (dash + 3));
    return names;
}

/// The sound server whose socket is there; empty when none is.
std::string soundServer()
{
    const char* runtime = std::getenv ("XDG_RUNTIME_DIR");
    if (runtime == nullptr)
        return "";
    std::error_code ignored;
    if (fs::exists (std::string (runtime) + "/pipewire-0", ignored))
        return "PipeWire";
    return fs::exists (std::string (runtime) + "/pulse/native", ignored) ? "PulseAudio" : "";
}

void examineSound (std::vector<Finding>& findings)
{
    const auto cards = soundCards();
    const auto server = soundServer();
    for (const auto& card : cards)
        findings.push_back ({ State::well, "sound", "sound card: " + card, "" });
    if (! server.empty())
        findings.push_back ({ State::well, "sound", "sound server: " + server, "" });
    if (cards.empty() && server.empty())
        findings.push_back ({ State::could, "sound",
                              "no sound card and no sound server were found: the window plays the picture without sound; connect a "
                              "sound card, or start a sound server",
                              "pipewire-audio" });
}

void examineCodecs (std::vector<Finding>& findings)
{
    std::string reads, writes;
    for (const auto& check : media::checkCodecs())
    {
        auto& list = check.writing ? writes : reads;
        if (check.there)
            list += (list.empty() ? "" : ", ") + check.what;
        else
            findings.push_back (
                { State::lacking, "codecs",
                  std::string ("FFmpeg's libraries here can't ") + (check.writing ? "write " : "read ") + check.what,
                  "libavcodec-extra" });
    }
    findings.push_back ({ State::well, "codecs", "FFmpeg " + media::libavVersion() + " reads " + reads, "" });
    findings.push_back ({ State::well, "codecs", "and writes " + writes, "" });
}

void examineFonts (std::vector<Finding>& findings)
{
    const auto missing = sheets::missingFamilies();
    constexpr std::array<std::pair<const char*, const char*>, 3> packages{
        { { "Inter", "fonts-inter" }, { "JetBrains Mono", "fonts-jetbrains-mono" }, { "EB Garamond", "fonts-ebgaramond" } }
    };
    for (const auto& note : missing)
    {
        const auto known =
            std::find_if (packages.begin(), packages.end(),
                          [&] (const auto& p) { return note.find ("font " + std::string (p.first)) != std::string::npos; });
        findings.push_back ({ State::lacking, "fonts", note, known == packages.end() ? "" : known->second });
    }
    if (missing.empty())
    {
        std::string names;
        for (const auto& family : sheets::sheetFamilies())
            names += (names.empty() ? "" : ", ") + family;
        findings.push_back ({ State::well, "fonts", "the fonts of the sheets are here: " + names, "" });
    }
}

void examineReading (std::vector<Finding>& findings, const std::vector<std::string>& languages)
{
    if (languages.empty())
    {
        findings.push_back ({ State::lacking, "reading", "Tesseract has no language to read title cards in", "tesseract-ocr-eng" });
        return;
    }
    std::string names;
    for (const auto& language : languages)
        names += (names.empty() ? "" : ", ") + language;
    findings.push_back ({ State::well, "reading", "title cards can be read in: " + names, "" });
    // Languages of many silent films' cards; others are installed alike.
    for (const char* usual : { "dan", "deu", "eng", "fra", "ita", "nor", "rus", "swe" })
        if (std::find (languages.begin(), languages.end(), usual) == languages.end())
            findings.push_back ({ State::could, "reading", std::string ("cards in ") + usual + " can't be read",
                                  std::string ("tesseract-ocr-") + usual });
}

Room roomOf (const std::string& path)
{
    Room room;
    room.path = path;
    if (path.empty())
        return room;
    std::error_code failed;
    for (fs::recursive_directory_iterator at (path, fs::directory_options::skip_permission_denied, failed), end;
         ! failed && at != end; at.increment (failed))
    {
        std::error_code gone;
        if (at->is_regular_file (gone))
            if (const auto size = at->file_size (gone); ! gone)
                room.used += size;
    }
    // The folder may not be made yet: then the nearest above it tells.
    fs::path there (path);
    while (! fs::exists (there, failed) && there.has_relative_path())
        there = there.parent_path();
    room.writable = ::access (there.c_str(), W_OK) == 0;
    struct statvfs disk
    {
    };
    if (::statvfs (there.c_str(), &disk) == 0)
        room.freeBytes = std::uint64_t{ disk.f_bavail } * disk.f_frsize;
    return room;
}

void examineRoom (std::vector<Finding>& findings, const Room& room, const std::string& area, const std::string& whatFor)
{
    if (room.path.empty())
        findings.push_back ({ State::lacking, area, "there is no folder for " + whatFor + ": HOME is not set", "" });
    else if (! room.writable)
        findings.push_back (
            { State::lacking, area, room.path + " for " + whatFor + " can't be written; check who may write there", "" });
    else
        findings.push_back ({ State::well, area, room.path + " holds " + sizeText (room.used) + " for " + whatFor, "" });
}

void examineDisk (std::vector<Finding>& findings, const Room& room)
{
    if (room.path.empty())
        return;
    const auto text = sizeText (room.freeBytes) + " are free where " + room.path + " lies";
    if (room.freeBytes < little)
        findings.push_back ({ State::lacking, "disk", text + "; make room before rendering or scanning", "" });
    else
        findings.push_back ({ State::well, "disk", text, "" });
}
} // namespace

std::string findingStateName (State state)
{
    return state == State::well ? "well" : state == State::could ? "could" : "lacking";
}

bool Examination::lacking() const
{
    return std::any_of (findings.begin(), findings.end(), [] (const Finding& f) { return f.state == State::lacking; });
}

Examination examineMachine()
{
    Examination found;
    found.languages = reading::installedLanguages();
    found.libav = media::libavVersion();
    const auto index = media::indexCacheFolder();
    found.cache = roomOf (index.empty() ? "" : fs::path (index).parent_path().string());
    found.state = roomOf (stateFolder());
    std::error_code failed;
    const auto temporary = fs::temp_directory_path (failed);
    // Other people's files in there are nobody's business: only the room is.
    found.temporary = roomOf ("");
    found.temporary.path = temporary.string();
    if (struct statvfs disk{}; ::statvfs (temporary.c_str(), &disk) == 0)
        found.temporary.freeBytes = std::uint64_t{ disk.f_bavail } * disk.f_frsize;
    found.temporary.writable = ::access (temporary.c_str(), W_OK) == 0;
    examineSound (found.findings);
    examineCodecs (found.findings);
    examineFonts (found.findings);
    examineReading (found.findings, found.languages);
    examineRoom (found.findings, found.cache, "cache", "indexes, scans and fingerprints of films");
    examineDisk (found.findings, found.cache);
    examineDisk (found.findings, found.temporary);
    examineRoom (found.findings, found.state, "state", "the log");
    return found;
}
} // namespace shutterbeat::desk
