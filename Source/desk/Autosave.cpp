#include "desk/Autosave.h"

#include "desk/StateFolder.h"
#include "store/BookFile.h"
#include "store/WholeFile.h"
#include "time/Text.h"

#include <algorithm>
#include <csignal>
#include <ctime>
#include <filesystem>
#include <sys/stat.h>
#include <unistd.h>
#include <vector>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;

constexpr const char* ending = ".shutterbeat";

std::string folder()
{
    const auto state = stateFolder();
    return state.empty() ? state : state + "/autosave";
}

/// "film-1f-9c0a5e...-": the same for one book however its path was typed.
std::string stemOf (const std::string& bookPath)
{
    std::error_code failed;
    const auto whole = fs::weakly_canonical (fs::absolute (bookPath, failed), failed);
    const auto path = failed ? fs::path (bookPath) : whole;
    return path.stem().string().substr (0, 60) + "-" + store::stampOf (path.string()) + "-";
}

bool runs (std::int64_t process)
{
    return process > 1 && (::kill (static_cast<pid_t> (process), 0) == 0 || errno == EPERM);
}

std::int64_t changedAt (const std::string& file)
{
    struct stat info
    {
    };
    return ::stat (file.c_str(), &info) == 0 ? static_cast<std::int64_t> (info.st_mtime) : 0;
}
} // namespace

std::string autosavePath (const std::string& bookPath)
{
    const auto in = folder();
    return in.empty() ? in : in + "/" + stemOf (bookPath) + std::to_string (::getpid()) + ending;
}

Result<Done> autosave (const std::string& bookPath, const spotting::Book& book)
{
    const auto path = autosavePath (bookPath);
    if (path.empty())
        return cannotWrite ("state folder", "there is none: HOME is not set, so unsaved edits can't be kept. Save often");
    std::error_code failed;
    fs::create_directories (fs::path (path).parent_path(), failed);
    return store::writeWhole (path, store::bookText (book));
}

void dropAutosave (const std::string& bookPath)
{
    std::error_code ignored;
    if (const auto path = autosavePath (bookPath); ! path.empty())
        fs::remove (path, ignored);
}

std::optional<KeptEdits> keptEdits (const OpenBook& open)
{
    std::error_code failed;
    const auto stem = stemOf (open.path);
    std::vector<std::pair<std::int64_t, std::string>> files;
    for (const auto& entry : fs::directory_iterator (folder(), failed))
    {
        const auto name = entry.path().filename().string();
        if (! time::startsWith (name, stem) || entry.path().extension() != ending)
            continue;
        const auto process = time::parseWhole (name.substr (stem.size(), name.size() - stem.size() - std::string (ending).size()));
        if (process && ! runs (*process))
            files.push_back ({ changedAt (entry.path().string()), entry.path().string() });
    }
    std::sort (files.rbegin(), files.rend());
    for (const auto& [when, file] : files)
        if (auto loaded = store::loadBook (file); loaded && ! (loaded->book == open.book))
            return KeptEdits{ file, std::move (loaded->book), when };
    return {};
}

Result<std::string> keptBeside (const KeptEdits& kept, const std::string& bookPath)
{
    const fs::path whole (bookPath);
    const std::time_t at = kept.seconds;
    std::tm local{};
    ::localtime_r (&at, &local);
    char when[32];
    std::strftime (when, sizeof when, "%Y-%m-%d %H.%M.%S", &local);
    const auto beside =
        (whole.parent_path() / (whole.stem().string() + " (unsaved " + when + ")" + whole.extension().string())).string();
    std::error_code failed;
    if (fs::exists (beside, failed))
        return cannotWrite (beside, "is there already; the unsaved edits stay in " + kept.file);
    const auto saved = store::saveBook (beside, kept.book, "");
    if (! saved)
        return saved.error();
    fs::remove (kept.file, failed);
    return beside;
}
} // namespace shutterbeat::desk
