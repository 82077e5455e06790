#pragma once

#include "media/Canvas.h"
#include "media/FilmFile.h"
#include "time/Result.h"

#include <cstdint>
#include <memory>
#include <string>

namespace shutterbeat::media
{
/// Puts exactly file frame k of a film onto a canvas, scaled once from what the decoder gives to what the encoder takes.
/// The frames are those of FrameReader; ask in film order and each is decoded once. One thread at a time.
class CanvasFilm
{
public:
    /// Error: as openFilm.
    static Result<std::unique_ptr<CanvasFilm>> open (const std::string& path);
    ~CanvasFilm();

    [[nodiscard]] const FilmInfo& info() const;

    /// Paints file frame k (0 to info().frames - 1) over an area with even edges. Gives false when the frame can't be
    /// decoded whole and what there is was painted: parts of it, the last good one, or black.
    /// Error usage: no such frame. Error unreadable: the file can't be read any more.
    Result<bool> paint (std::int64_t k, Canvas& canvas, const Area& area);

    /// How many pictures have been decoded since opening, for measuring.
    [[nodiscard]] std::int64_t decodedSoFar() const;

private:
    struct State;
    explicit CanvasFilm (std::unique_ptr<State> opened);
    std::unique_ptr<State> state;
};
} // namespace shutterbeat::media
