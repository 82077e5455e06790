#pragma once

#include <cairo.h>

#include <cstdint>
#include <vector>

/// Drawing in greys with pen outlines: the few strokes every set, prop and figure of the demo film is made of.
/// Units are screen pixels of a 640x480 frame unless a transform is on; greys run from 0 (black) to 1 (white).
namespace shutterbeat::demo
{

struct Point
{
    double x = 0;
    double y = 0;
};

using Points = std::vector<Point>;

inline constexpr double kPi = 3.14159265358979323846;

/// A fixed pseudo-random number in [0, 1) for a seed and a counter; the same on every machine.
double chance (std::uint32_t seed, std::uint32_t counter);
/// A smooth wandering curve in [-1, 1]; `x` moves one step per new random value.
double wander (std::uint32_t seed, double x);
double clamp01 (double value);
double mix (double from, double to, double share);
/// 0 before `from`, 1 after `to`, an eased slope between.
double ease (double value, double from, double to);
/// 0 outside [from, to], 1 in its middle, smooth.
double bump (double value, double from, double to);

/// A pen on a Cairo context. Paths are built first, then filled or stroked; `shape` calls do both.
class Ink
{
public:
    explicit Ink (cairo_t* context)
        : cr (context)
    {
    }

    /// Keeps transform and clip of an Ink for the length of a scope.
    class Hold
    {
    public:
        Hold (Ink& held)
            : ink_ (held)
            , line_ (held.line)
        {
            cairo_save (held.cr);
        }
        ~Hold()
        {
            cairo_restore (ink_.cr);
            ink_.line = line_;
        }
        Hold (const Hold&) = delete;
        Hold& operator= (const Hold&) = delete;

    private:
        Ink& ink_;
        double line_;
    };

    void move (double x, double y) { cairo_translate (cr, x, y); }
    void turn (double radians) { cairo_rotate (cr, radians); }
    void scale (double s) { cairo_scale (cr, s, s); }
    void scale (double sx, double sy) { cairo_scale (cr, sx, sy); }
    /// Looks at (x, y) of the set with the given magnification: that point comes to the middle of the frame.
    void camera (double x, double y, double zoom);

    // Paths
    void oval (double x, double y, double rx, double ry);
    void box (double x, double y, double w, double h, double radius = 0);
    void poly (const Points& points, bool closed = true);
    /// A smooth curve through all points.
    void curve (const Points& points, bool closed = true);
    void arc (double x, double y, double radius, double from, double to);

    // Paint; each uses up the path unless `keep`
    void fill (double grey, double alpha = 1, bool keep = false);
    void fillDown (double y0, double grey0, double y1, double grey1, bool keep = false);
    void fillAcross (double x0, double grey0, double x1, double grey1, bool keep = false);
    void fillBall (double x, double y, double radius, double centre, double edge, bool keep = false);
    void stroke (double width, double grey, double alpha = 1);
    void outline (double width = 2.0, double alpha = 1);
    void shape (double grey, double width = 2.0);
    void shapeDown (double y0, double grey0, double y1, double grey1, double width = 2.0);
    void shapeAcross (double x0, double grey0, double x1, double grey1, double width = 2.0);
    void shapeBall (double x, double y, double radius, double centre, double edge, double width = 2.0);

    /// A jointed limb or rod with an inked edge.
    void limb (const Points& points, double width, double grey);
    /// A pen line through points.
    void penLine (const Points& points, double width, double grey = 0.07, double alpha = 1);
    /// A soft round patch of light or shadow.
    void glow (double x, double y, double rx, double ry, double grey, double alpha);
    /// Loose parallel pen strokes in a rectangle.
    void hatch (double x, double y, double w, double h, double gap, double slant, double grey, double alpha, std::uint32_t seed);

    cairo_t* cr;
    double line = 1; ///< multiplies every outline, so that close-ups do not get posters' edges

private:
    void gradient (cairo_pattern_t* pattern, double g0, double g1, bool keep);
};

} // namespace shutterbeat::demo
