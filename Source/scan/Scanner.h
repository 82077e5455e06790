#pragma once

#include "film/GreyPicture.h"
#include "scan/Measures.h"
#include "time/Result.h"

#include <memory>

namespace shutterbeat::scan
{
/// Measures the pictures of one file, fed one after another. Memory: a few dozen bytes a frame.
class Scanner
{
public:
    Scanner();
    ~Scanner();
    Scanner (Scanner&&) noexcept;
    Scanner& operator= (Scanner&&) noexcept;

    /// How many frames are likely to come: memory for what is measured of them is taken at once.
    void expect (std::int64_t frames);
    /// The next file frame, in order. Error: not scanWidth x scanHeight, or pixels missing.
    Result<Done> add (const film::GreyPicture& picture);

    /// After the last frame: what was measured. The scanner is empty again afterwards.
    Measures finish();

private:
    struct State;
    std::unique_ptr<State> state;
};
} // namespace shutterbeat::scan
