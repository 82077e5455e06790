#include "time/Rate.h"

#include "time/Text.h"

#include <array>

namespace shutterbeat::time
{
namespace
{
struct NamedRate
{
    std::string_view name;
    int num, den, labels;
};

// SMPTE ST 12-1:2014.
constexpr std::array<NamedRate, 10> timecodeRates{ { { "23.976", 24000, 1001, 24 },
                                                     { "24", 24, 1, 24 },
                                                     { "25", 25, 1, 25 },
                                                     { "29.97", 30000, 1001, 30 },
                                                     { "30", 30, 1, 30 },
                                                     { "47.952", 48000, 1001, 48 },
                                                     { "48", 48, 1, 48 },
                                                     { "50", 50, 1, 50 },
                                                     { "59.94", 60000, 1001, 60 },
                                                     { "60", 60, 1, 60 } } };

// Delivered frames are film time times the rate; small parts leave the 128 bits to the film's own speeds.
constexpr std::int64_t largestRatePart = 999'999'999;

struct Snap
{
    std::string_view text;
    int num, den;
};

constexpr std::array<Snap, 5> rateSnaps{ { { "23.98", 24000, 1001 },
                                           { "23.9760", 24000, 1001 },
                                           { "23.97", 24000, 1001 },
                                           { "47.95", 48000, 1001 },
                                           { "29.970", 30000, 1001 } } };

/// A decimal that stands for a speed of the archives.
struct SpeedSnap
{
    int thousandths, num, den;
};

constexpr std::array<SpeedSnap, 6> speedSnaps{ { { 18180, 200, 11 },
                                                 { 18182, 200, 11 },
                                                 { 21820, 240, 11 },
                                                 { 21818, 240, 11 },
                                                 { 23980, 24000, 1001 },
                                                 { 23976, 24000, 1001 } } };

/// By value, so that 23.976 and 23.9760 are read alike.
const SpeedSnap* speedSnap (const Rational& decimal)
{
    const auto thousandths = decimal * Rational (1000);
    for (const auto& snap : speedSnaps)
        if (Rational (snap.thousandths) == thousandths)
            return &snap;
    return nullptr;
}

const NamedRate* namedRate (const Rational& perSecond)
{
    // The table's fractions are in lowest terms, as every Rational is.
    for (const auto& rate : timecodeRates)
        if (rate.num == perSecond.numerator() && rate.den == perSecond.denominator())
            return &rate;
    return nullptr;
}
} // namespace

Result<Reading<Rate>> parseRate (std::string_view text)
{
    const auto bad = [&] (const char* why) { return usageError ("rate \"" + std::string (text) + "\"", why); };
    std::string body = lowerAscii (trimmed (text));
    Reading<Rate> reading;
    if (endsWith (body, "df"))
    {
        reading.value.dropFrame = true;
        body.resize (body.size() - 2);
    }
    bool found = false;
    for (const auto& rate : timecodeRates)
        if (rate.name == body)
        {
            reading.value.perSecond = Rational (rate.num, rate.den);
            found = true;
        }
    for (const auto& snap : rateSnaps)
        if (! found && snap.text == body)
        {
            reading.value.perSecond = Rational (snap.num, snap.den);
            reading.note = body + " is read as " + fractionText (reading.value.perSecond) + " frames a second";
            found = true;
        }
    if (! found)
    {
        if (body.find ('.') != std::string::npos)
            return bad (
                "is not a final rate; use 23.976, 24, 25, 29.97, 29.97df, 30, 48, 50, 59.94, 59.94df, 60 or a fraction n/d");
        const auto number = parseRational (body);
        if (! number)
            return bad (
                "is not a final rate; use 23.976, 24, 25, 29.97, 29.97df, 30, 48, 50, 59.94, 59.94df, 60 or a fraction n/d");
        if (number->numerator() > largestRatePart || number->denominator() > largestRatePart)
            return bad ("has too many digits; write it as a fraction of numbers below a thousand million");
        reading.value.perSecond = *number;
    }
    if (reading.value.perSecond.sign() <= 0 || reading.value.perSecond > Rational (240))
        return bad ("is out of range; a final rate lies above 0 and up to 240 frames a second");
    if (reading.value.dropFrame)
    {
        const auto* named = namedRate (reading.value.perSecond);
        if (named == nullptr || (named->name != "29.97" && named->name != "59.94"))
            return bad ("does not exist; drop-frame counts only at 29.97 and 59.94");
    }
    return reading;
}

std::string rateName (const Rate& rate)
{
    const auto* named = namedRate (rate.perSecond);
    const std::string name = named != nullptr ? std::string (named->name) : fractionText (rate.perSecond);
    return rate.dropFrame ? name + "df" : name;
}

bool hasTimecode (const Rate& rate)
{
    return namedRate (rate.perSecond) != nullptr;
}

int labelsPerSecond (const Rate& rate)
{
    const auto* named = namedRate (rate.perSecond);
    return named != nullptr ? named->labels : 0;
}

Result<Reading<Rational>> parseSpeed (std::string_view text)
{
    const auto bad = [&] (const char* why) { return usageError ("speed \"" + std::string (text) + "\"", why); };
    const char* form = "is not a running speed; write film frames a second (18, 200/11), 80ft/min or 13min/1000ft";
    const std::string body = lowerAscii (trimmed (text));
    Reading<Rational> reading;
    constexpr std::string_view feet = "ft/min", minutes = "min/1000ft";
    if (endsWith (body, minutes))
    {
        const auto value = parseRational (trimmed (std::string_view (body).substr (0, body.size() - minutes.size())));
        if (! value || value->sign() <= 0)
            return bad (form);
        reading.value = Rational (16000, 60) / *value;
    }
    else if (endsWith (body, feet))
    {
        const auto value = parseRational (trimmed (std::string_view (body).substr (0, body.size() - feet.size())));
        if (! value)
            return bad (form);
        reading.value = *value * Rational (16, 60);
    }
    else
    {
        const auto value = parseRational (body);
        if (! value)
            return bad (form);
        reading.value = *value;
        // Who writes a fraction means it: 2997/125 stays what it is, and so it is named.
        if (const auto* snap = body.find ('.') != std::string::npos ? speedSnap (*value) : nullptr)
        {
            reading.value = Rational (snap->num, snap->den);
            reading.note = body + " is read as " + fractionText (reading.value) + " film frames a second";
        }
    }
    if (! reading.value.valid() || reading.value < Rational (1) || reading.value > Rational (120))
        return bad ("is out of range; a running speed lies between 1 and 120 film frames a second");
    return reading;
}

std::string speedName (const Rational& framesPerSecond)
{
    const Rational thousandths = framesPerSecond * Rational (1000);
    if (! framesPerSecond.isWhole() && thousandths.isWhole() && speedSnap (framesPerSecond) == nullptr)
        return shortDecimalText (framesPerSecond, 3);
    return fractionText (framesPerSecond);
}

std::string speedText (const Rational& framesPerSecond)
{
    const std::string name = speedName (framesPerSecond);
    return name.find ('/') == std::string::npos ? name : name + " (" + decimalText (framesPerSecond, 3) + ")";
}
} // namespace shutterbeat::time
