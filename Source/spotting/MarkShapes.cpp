#include "spotting/MarkShapes.h"

#include <utility>

namespace shutterbeat::spotting
{
namespace
{
using Kind = MarkStep::Kind;
using Points = std::vector<std::pair<double, double>>;

/// Collects the steps of one shape.
struct Outline
{
    std::vector<MarkStep> steps;

    Outline& polygon (const Points& points)
    {
        bool first = true;
        for (const auto& [x, y] : points)
        {
            steps.push_back ({ first ? Kind::move : Kind::line, x, y });
            first = false;
        }
        return close();
    }

    Outline& move (double x, double y) { return add ({ Kind::move, x, y }); }
    Outline& line (double x, double y) { return add ({ Kind::line, x, y }); }
    Outline& close() { return add ({ Kind::close }); }
    Outline& curve (double x1, double y1, double x2, double y2, double x, double y)
    {
        return add ({ Kind::curve, x, y, x1, y1, x2, y2 });
    }

    /// Four cubic quarters; 0.5523 of the radius is the usual handle.
    Outline& ellipse (double cx, double cy, double rx, double ry)
    {
        const double hx = 0.5523 * rx, hy = 0.5523 * ry;
        move (cx + rx, cy);
        curve (cx + rx, cy + hy, cx + hx, cy + ry, cx, cy + ry);
        curve (cx - hx, cy + ry, cx - rx, cy + hy, cx - rx, cy);
        curve (cx - rx, cy - hy, cx - hx, cy - ry, cx, cy - ry);
        curve (cx + hx, cy - ry, cx + rx, cy - hy, cx + rx, cy);
        return close();
    }

private:
    Outline& add (MarkStep step)
    {
        steps.push_back (step);
        return *this;
    }
};

std::vector<MarkStep> spark()
{
    Outline o;
    o.move (0.5, 0.0);
    o.curve (0.545, 0.32, 0.68, 0.455, 1.0, 0.5);
    o.curve (0.68, 0.545, 0.545, 0.68, 0.5, 1.0);
    o.curve (0.455, 0.68, 0.32, 0.545, 0.0, 0.5);
    o.curve (0.32, 0.455, 0.455, 0.32, 0.5, 0.0);
    return o.close().steps;
}

std::vector<MarkStep> doorway()
{
    // An arch with its opening: posts of 0.2 on either side.
    Outline o;
    o.move (0.12, 1.0).line (0.12, 0.4);
    o.curve (0.12, 0.17, 0.29, 0.0, 0.5, 0.0);
    o.curve (0.71, 0.0, 0.88, 0.17, 0.88, 0.4);
    o.line (0.88, 1.0).line (0.66, 1.0).line (0.66, 0.42);
    o.curve (0.66, 0.31, 0.6, 0.24, 0.5, 0.24);
    o.curve (0.4, 0.24, 0.34, 0.31, 0.34, 0.42);
    return o.line (0.34, 1.0).close().steps;
}

std::vector<MarkStep> wave()
{
    Outline o;
    o.move (0.0, 0.5);
    o.curve (0.14, 0.14, 0.36, 0.14, 0.5, 0.4);
    o.curve (0.64, 0.64, 0.84, 0.6, 1.0, 0.24);
    o.line (1.0, 0.52);
    o.curve (0.86, 0.88, 0.64, 0.88, 0.5, 0.62);
    o.curve (0.36, 0.38, 0.16, 0.42, 0.0, 0.78);
    return o.close().steps;
}

std::vector<MarkStep> note()
{
    Outline o;
    o.move (0.62, 0.0).line (0.72, 0.0);
    o.curve (0.74, 0.16, 0.92, 0.2, 0.92, 0.46);
    o.curve (0.86, 0.34, 0.8, 0.32, 0.72, 0.3);
    o.line (0.72, 0.8);
    o.curve (0.72, 0.92, 0.56, 1.0, 0.4, 1.0);
    o.curve (0.22, 1.0, 0.12, 0.92, 0.12, 0.82);
    o.curve (0.12, 0.7, 0.28, 0.62, 0.44, 0.62);
    o.curve (0.52, 0.62, 0.58, 0.64, 0.62, 0.68);
    return o.close().steps;
}
} // namespace

std::vector<MarkStep> markShape (HitKind kind)
{
    switch (kind)
    {
    case HitKind::cut:
        return Outline()
            .polygon ({ { 0.32, 0.0 },
                        { 0.68, 0.0 },
                        { 0.68, 0.34 },
                        { 0.52, 0.5 },
                        { 0.68, 0.66 },
                        { 0.68, 1.0 },
                        { 0.32, 1.0 },
                        { 0.32, 0.66 },
                        { 0.48, 0.5 },
                        { 0.32, 0.34 } })
            .steps;
    case HitKind::card:
        return Outline()
            .polygon ({ { 0.0, 0.12 }, { 1.0, 0.12 }, { 1.0, 0.88 }, { 0.0, 0.88 } })
            .polygon ({ { 0.2, 0.32 }, { 0.2, 0.68 }, { 0.8, 0.68 }, { 0.8, 0.32 } })
            .steps;
    case HitKind::gag:
        return spark();
    case HitKind::action:
        return Outline().polygon ({ { 0.08, 0.04 }, { 1.0, 0.5 }, { 0.08, 0.96 }, { 0.3, 0.5 } }).steps;
    case HitKind::entrance:
        return doorway();
    case HitKind::effect:
        return Outline().ellipse (0.5, 0.5, 0.5, 0.5).ellipse (0.5, 0.5, 0.24, 0.24).steps;
    case HitKind::mood:
        return wave();
    case HitKind::seenMusic:
        return note();
    case HitKind::stop:
        return Outline()
            .polygon ({ { 0.29, 0.0 },
                        { 0.71, 0.0 },
                        { 1.0, 0.29 },
                        { 1.0, 0.71 },
                        { 0.71, 1.0 },
                        { 0.29, 1.0 },
                        { 0.0, 0.71 },
                        { 0.0, 0.29 } })
            .steps;
    }
    return {};
}

double markFillFrom (Weight weight)
{
    return weight == Weight::must ? 0.0 : weight == Weight::should ? 0.5 : 1.0;
}
} // namespace shutterbeat::spotting
