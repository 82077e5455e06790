#include "store/ZipFile.h"

#include <filesystem>
#include <memory>
#include <zip.h>

namespace shutterbeat::store
{
namespace
{
struct Discard
{
    void operator() (zip_t* zip) const { zip_discard (zip); }
};

/// The first day that the format knows, 1980-01-01, at midnight.
constexpr zip_uint16_t firstDay = 1 << 5 | 1;
} // namespace

Result<Done> writeZip (const std::string& path, const std::vector<ZipEntry>& entries, const ZipWatch& watch)
{
    int code = 0;
    std::unique_ptr<zip_t, Discard> zip (zip_open (path.c_str(), ZIP_CREATE | ZIP_EXCL, &code));
    if (! zip)
    {
        zip_error_t error;
        zip_error_init_with_code (&error, code);
        const std::string why = zip_error_strerror (&error);
        zip_error_fini (&error);
        return cannotWrite (path, "the zip can't be made (" + why + "); choose another name or folder");
    }
    const auto failed = [&]
    { return cannotWrite (path, std::string ("the zip can't be made (") + zip_strerror (zip.get()) + ")"); };
    for (const auto& entry : entries)
    {
        std::error_code missing;
        if (! std::filesystem::is_regular_file (entry.path, missing))
            return unreadable (entry.path, "is not there any more");
        auto* source = zip_source_file (zip.get(), entry.path.c_str(), 0, -1);
        if (source == nullptr)
            return failed();
        const auto index = zip_file_add (zip.get(), entry.name.c_str(), source, ZIP_FL_ENC_UTF_8);
        if (index < 0)
        {
            zip_source_free (source);
            return failed();
        }
        const auto at = static_cast<zip_uint64_t> (index);
        if (zip_set_file_compression (zip.get(), at, ZIP_CM_STORE, 0) < 0
            || zip_file_set_dostime (zip.get(), at, 0, firstDay, 0) < 0
            || zip_file_set_external_attributes (zip.get(), at, 0, ZIP_OPSYS_UNIX, 0100644u << 16) < 0)
            return failed();
    }
    bool stopped = false;
    struct Watching
    {
        const ZipWatch& watch;
        bool& stopped;
    } watching{ watch, stopped };
    zip_register_cancel_callback_with_state (
        zip.get(), [] (zip_t*, void* data) { return static_cast<Watching*> (data)->stopped ? 1 : 0; }, nullptr, &watching);
    zip_register_progress_callback_with_state (
        zip.get(), 0.01,
        [] (zip_t*, double fraction, void* data)
        {
            auto& state = *static_cast<Watching*> (data);
            if (state.watch && ! state.watch (fraction))
                state.stopped = true;
        },
        nullptr, &watching);
    if (zip_close (zip.get()) < 0)
        return stopped ? Error{ ErrorCode::cancelled, path, "stopped; nothing was written" } : failed();
    static_cast<void> (zip.release());
    return Done{};
}
} // namespace shutterbeat::store
