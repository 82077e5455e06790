#pragma once

#include <cstdint>
#include <string>
#include <vector>

/// What years of projection did to a print: applied to every film frame, before any repeats.
namespace shutterbeat::demo
{

/// A splice that flashes: at a film frame counted from the head of the named shot as used.
struct Splice
{
    std::string shot;
    int frame = 0;
};

/// How one print looks. Amounts are multiples of the first print's.
struct WearLook
{
    std::uint32_t seed = 1;
    double zoom = 1;   ///< below 1 the scan is cropped tighter
    double shiftX = 0; ///< pixels, where the scan's middle lies
    double shiftY = 0;
    double gamma = 1;
    double flicker = 1;
    double weave = 1;
    double grain = 1;
    double scratches = 1;
    double dirt = 1;
    int toneU = 128; ///< chroma of the stock
    int toneV = 128;
    std::vector<Splice> splices;
};

/// Prints stage pictures onto worn stock. Keeps only tables; every film frame follows from seed and number alone.
class WornPrint
{
public:
    WornPrint (const WearLook& look, int filmFrames);
    /// From a stage picture (kStageWidth by kStageHeight greys) to kFrameWidth by kFrameHeight video luma (16 to 235).
    /// `flash`: 0 none, 1 the first frame after a splice, 2 the next.
    const std::vector<std::uint8_t>& print (const std::vector<std::uint8_t>& stage, int filmFrame, int flash);

private:
    struct Scratch
    {
        int first, end;
        double x, reach, width, tone;
        std::uint32_t seed;
    };

    void soften (const std::vector<std::uint8_t>& stage);
    void halate();
    void expose (int filmFrame, int flash);
    void scratch (int filmFrame);
    void dirty (int filmFrame);
    void blend (int x, int y, double tone, double alpha);

    WearLook look_;
    std::vector<Scratch> scratches_;
    std::vector<std::int8_t> grain_;
    std::vector<std::uint8_t> vignette_;
    std::vector<std::uint8_t> soft_;
    std::vector<std::uint16_t> rows_;
    std::vector<float> halo_;
    std::vector<std::uint8_t> out_;
};

} // namespace shutterbeat::demo
