#include "fuzz/Target.h"

#include "film/Delivery.h"
#include "film/Place.h"
#include "music/FrameClick.h"
#include "music/Meter.h"
#include "music/NoteValue.h"
#include "music/TempoMap.h"
#include "spotting/Sound.h"
#include "time/Clock.h"
#include "time/Footage.h"
#include "time/Rate.h"
#include "time/Text.h"
#include "time/Timecode.h"

using namespace shutterbeat;

/// Timecode, numbers, rates, speeds, feet, places, meters, clicks and offsets as people type them: the same text to each.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto text = fuzz::textOf (data, size);
    if (const auto number = time::parseRational (text); number && number->valid())
    {
        const auto again = time::parseRational (time::fractionText (*number));
        fuzz::must (again.ok() && *again == *number, "a number that is written is read back");
        (void)time::decimalText (*number, 9);
        (void)time::clockText (*number);
        (void)time::longClockText (*number);
        (void)time::sampleAt (*number, 192000);
        (void)time::roundOf (*number);
    }
    if (const auto rate = time::parseRate (text))
    {
        const auto again = time::parseRate (time::rateName (rate->value));
        fuzz::must (again.ok() && again->value == rate->value, "a rate that is named is read back");
    }
    if (const auto speed = time::parseSpeed (text))
    {
        const auto again = time::parseSpeed (time::speedName (speed->value));
        fuzz::must (again.ok() && again->value == speed->value, "a speed that is named is read back");
        (void)time::speedText (speed->value);
    }
    for (const char* name : { "24", "25", "29.97df", "30", "59.94df", "60" })
    {
        const auto rate = time::parseRate (name)->value;
        for (const auto how : { time::LabelReading::typed, time::LabelReading::media })
            if (const auto label = time::parseLabel (text, rate, how))
            {
                const auto again = time::parseLabel (time::labelOf (label->value, rate).shown(), rate);
                fuzz::must (again.ok() && again->value == label->value, "a label that is shown is read back");
            }
        if (const auto legal = time::nextLegalLabel (text, rate))
            fuzz::must (time::parseLabel (*legal, rate).ok(), "a legal label is legal");
    }
    (void)time::parseWhole (text);
    (void)time::isUtf8 (text);
    (void)time::parseGauge (text);
    for (const auto& gauge : time::gauges())
        if (const auto frames = time::parseFeet (text, gauge))
        {
            const auto again = time::parseFeet (time::feetText (*frames, gauge), gauge);
            fuzz::must (again.ok() && *again == *frames, "feet that are written are read back");
        }
    (void)film::parsePlace (text);
    (void)film::parsePlace (text, film::BareNumber::fileFrame);
    (void)film::parseFill (text);
    (void)music::parseMeter (text);
    (void)music::parseNoteValue (text);
    (void)music::parseClick (text);
    (void)music::parseBarBeat (text);
    (void)spotting::parseSoundOffset (text);
    return 0;
}
