#pragma once

#include "play/FrameCache.h"
#include "time/Result.h"

#include <memory>

namespace shutterbeat::play
{
/// Where decoded pictures come from. Used by one thread only.
class PictureSource
{
public:
    virtual ~PictureSource() = default;

    /// Exactly the picture of that key, at its display shape and at most width x height pixels (0, 0: full size).
    /// Error: its film can't be opened or read.
    virtual Result<PicturePtr> picture (const FrameKey& key, int width, int height) = 0;
};

/// The real source: one frame reader a file, opened when first asked for.
std::unique_ptr<PictureSource> filmPictures (std::vector<std::string> paths);
} // namespace shutterbeat::play
