#include "Catch.h"

#include "sheets/MarkDraw.h"

#include <cstring>
#include <set>

using namespace shutterbeat;
using spotting::HitKind;
using spotting::Weight;

namespace
{
constexpr int side = 48;
const HitKind kinds[]{ HitKind::cut,    HitKind::card, HitKind::gag,       HitKind::action, HitKind::entrance,
                       HitKind::effect, HitKind::mood, HitKind::seenMusic, HitKind::stop };

/// A mark drawn small, as black and white dots: how it looks on paper at a glance.
std::string drawn (HitKind kind, Weight weight, bool open)
{
    cairo_surface_t* image = cairo_image_surface_create (CAIRO_FORMAT_A8, side, side);
    cairo_t* cairo = cairo_create (image);
    sheets::drawMark (cairo, kind, weight, open, 10, 14, 28);
    cairo_destroy (cairo);
    cairo_surface_flush (image);
    std::string dots;
    for (int y = 0; y < side; ++y)
        for (int x = 0; x < side; ++x)
            dots += cairo_image_surface_get_data (image)[y * cairo_image_surface_get_stride (image) + x] > 127 ? '#' : '.';
    cairo_surface_destroy (image);
    return dots;
}

std::size_t ink (const std::string& dots)
{
    return static_cast<std::size_t> (std::count (dots.begin(), dots.end(), '#'));
}
} // namespace

TEST_CASE ("kinds are told apart by shape, weights by fill, open questions by a dot")
{
    std::set<std::string> looks;
    for (const auto kind : kinds)
    {
        const auto must = drawn (kind, Weight::must, false), should = drawn (kind, Weight::should, false),
                   may = drawn (kind, Weight::may, false);
        CHECK (ink (must) > ink (should));
        CHECK (ink (should) > ink (may));
        CHECK (ink (drawn (kind, Weight::may, true)) > ink (may));
        looks.insert ({ must, should, may });
    }
    CHECK (looks.size() == 27);
}

TEST_CASE ("shapes stay in their square and end where they begin")
{
    for (const auto kind : kinds)
    {
        const auto steps = spotting::markShape (kind);
        REQUIRE (steps.size() > 3);
        CHECK (steps.front().kind == spotting::MarkStep::Kind::move);
        CHECK (steps.back().kind == spotting::MarkStep::Kind::close);
        for (const auto& s : steps)
        {
            CHECK (s.x >= 0);
            CHECK (s.x <= 1);
            CHECK (s.y >= 0);
            CHECK (s.y <= 1);
        }
    }
}
