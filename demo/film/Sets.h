#pragma once

#include "Ink.h"

#include <functional>

namespace shutterbeat::demo
{

/// One-point perspective: X to the right, Y down (0 at the eye's height), Z away from the camera.
struct Vista
{
    double x = 320; ///< vanishing point
    double y = 200;
    double focal = 420;

    Point at (double X, double Y, double Z) const { return { x + focal * X / Z, y + focal * Y / Z }; }
};

// Out of doors
void sky (Ink& ink, double top, double horizon, double horizonY, std::uint32_t seed);
/// Stage waves in rows that rock to and fro, from far to near.
void sea (Ink& ink, double top, double bottom, double t, double far, double near, std::uint32_t seed);
void lighthouse (Ink& ink, double x, double y, double high, double lamp);
void rock (Ink& ink, double x, double y, double w, double h, std::uint32_t seed);
/// A gabled front; seeds differ in gable, windows, door and tone.
void house (Ink& ink, double x, double y, double w, double h, double tone, std::uint32_t seed);
void lampPost (Ink& ink, double x, double y, double high);
/// A street that runs away between two walls of houses. Figures stand on Y = 2.
void longStreet (Ink& ink, const Vista& vista);
/// A strip of fronts with pavement, `width` wide, that joins up with itself.
void streetStrip (Ink& ink, double width, double ground, std::uint32_t seed);
void hillside (Ink& ink);
void market (Ink& ink);
void jettyLong (Ink& ink, const Vista& vista);
/// The jetty's end from the side, deck at `deckY` up to `endX`.
void jettyEnd (Ink& ink, double deckY, double endX);
void harbour (Ink& ink);
void islet (Ink& ink);

// Indoors
void bakery (Ink& ink);
void bakeryTable (Ink& ink, double y);
void watchRoom (Ink& ink);
void galleryRail (Ink& ink);
void partyRoom (Ink& ink);
/// Light from a candle at (x, y) in a dark room: everything outside its reach sinks.
void candleLight (Ink& ink, double x, double y, double reach, double dark);

} // namespace shutterbeat::demo
