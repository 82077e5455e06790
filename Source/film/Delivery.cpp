#include "film/Delivery.h"

#include "film/Edition.h"
#include "time/Text.h"

namespace shutterbeat::film
{
time::Rational speedOf (const Edition& edition, const Shot& shot)
{
    return shot.speed ? *shot.speed : edition.speed;
}

std::optional<time::Rational> usualFill (const time::Rate& rate)
{
    const time::Rational whole = rate.perSecond * time::Rational (1001, 1000);
    if (time::hasTimecode (rate) && whole.isWhole())
        return whole;
    return {};
}

Result<std::optional<time::Rational>> parseFill (std::string_view text)
{
    if (text == "true")
        return std::optional<time::Rational>{};
    if (! time::startsWith (text, "from:"))
        return usageError ("fill \"" + std::string (text) + "\"", "is not known; use true, or from:RATE such as from:24");
    const auto rate = time::parseRate (text.substr (5));
    if (! rate)
        return rate.error();
    if (rate->value.dropFrame)
        return usageError ("fill \"" + std::string (text) + "\"",
                           "needs a rate, and drop-frame is a way of labelling; leave off the df");
    return std::optional<time::Rational>{ rate->value.perSecond };
}

std::string fillName (const std::optional<time::Rational>& from)
{
    return from ? "from:" + time::rateName ({ *from, false }) : "true";
}

std::string speedSeenText (const time::Rational& running, const Delivery& delivery)
{
    const time::Rational seen = running * delivery.rate.perSecond / delivery.countingRate();
    if (seen == running)
        return time::speedText (running);
    return time::speedName (running) + " (" + time::decimalText (seen, 3) + ")";
}
} // namespace shutterbeat::film
