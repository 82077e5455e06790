#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace shutterbeat::scan
{
/// A connected piece of what is marked.
struct Component
{
    int left = 0, top = 0, right = 0, bottom = 0; // ends exclusive
    std::size_t from = 0, to = 0;                 // its pixels in Components::pixels

    [[nodiscard]] std::size_t area() const { return to - from; }
};

struct Components
{
    std::vector<Component> pieces;
    std::vector<int> pixels; // piece after piece
};

/// All connected pieces of a picture of w x h pixels, diagonals included; not 0 is marked.
Components componentsOf (const std::vector<std::uint8_t>& marked, int w, int h);
} // namespace shutterbeat::scan
