#pragma once

#include "time/Result.h"

#include <fstream>
#include <string>
#include <string_view>

namespace shutterbeat::store
{
/// A large file that is written piece by piece beside its place, and renamed there when it is whole; without finish() nothing of it
/// is left.
class PartFile
{
public:
    explicit PartFile (std::string target);
    PartFile (const PartFile&) = delete;
    PartFile& operator= (const PartFile&) = delete;
    ~PartFile();

    /// Error (cannotWrite): the folder can't be written in, or the disk is full.
    Result<Done> write (std::string_view bytes);
    /// Error: as write.
    Result<Done> finish();

private:
    std::string path, part;
    std::ofstream file;
    bool done = false;
};
} // namespace shutterbeat::store
