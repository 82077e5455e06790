#pragma once

#include "film/Delivery.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <optional>

namespace shutterbeat::window
{
/// What was chosen: one of rate and fill, or the book's own again.
struct DeliveryChoice
{
    bool asTheBook = false;
    std::optional<time::Rate> rate;
    std::optional<std::optional<time::Rational>> fill;
};

/// Opens the menu of final rates and fills below a button. `asTheBook`: also offers the book's own, by this name.
void openDeliveryMenu (juce::Component& under, const film::Delivery& now, const juce::String& asTheBook,
                       std::function<void (const DeliveryChoice&)> taken);

/// "25 final, true", "30 final, frame for frame from 24".
juce::String deliveryWords (const film::Delivery& delivery);
} // namespace shutterbeat::window
