#include "window/DeliveryMenu.h"

#include "window/Bench.h"
#include "window/Fonts.h"

namespace shutterbeat::window
{
void openDeliveryMenu (juce::Component& under, const film::Delivery& now, const juce::String& asTheBook,
                       std::function<void (const DeliveryChoice&)> taken)
{
    constexpr int fills = 100, own = 200; // ids from here on are fills; the book's own
    juce::PopupMenu menu;
    if (asTheBook.isNotEmpty())
    {
        menu.addItem (own, asTheBook);
        menu.addSeparator();
    }
    const auto& rates = usualRates();
    for (std::size_t i = 0; i < rates.size(); ++i)
        if (const auto rate = time::parseRate (rates[i]))
            menu.addItem (static_cast<int> (i + 1), text (rates[i]), true, rate->value == now.rate);
    menu.addSeparator();
    menu.addItem (fills, "True: every second keeps its length", true, ! now.from);
    const std::vector<time::Rational> from{ 24, 25, 30, 48, 60 };
    for (std::size_t i = 0; i < from.size(); ++i)
        menu.addItem (fills + 1 + static_cast<int> (i), "Frame for frame from " + text (time::speedName (from[i])), true,
                      now.from && *now.from == from[i]);
    juce::Component::SafePointer<juce::Component> still (&under);
    menu.showMenuAsync (juce::PopupMenu::Options().withTargetComponent (under),
                        [still, from, taken = std::move (taken)] (int chosen)
                        {
                            if (still == nullptr || chosen <= 0)
                                return;
                            DeliveryChoice choice;
                            if (chosen == own)
                                choice.asTheBook = true;
                            else if (chosen > fills)
                                choice.fill = from[static_cast<std::size_t> (chosen - fills - 1)];
                            else if (chosen == fills)
                                choice.fill = std::optional<time::Rational>();
                            else if (const auto rate = time::parseRate (usualRates()[static_cast<std::size_t> (chosen - 1)]))
                                choice.rate = rate->value;
                            taken (choice);
                        });
}

juce::String deliveryWords (const film::Delivery& delivery)
{
    return text (time::rateName (delivery.rate)) + " final, "
           + (delivery.from ? "frame for frame from " + text (time::speedName (*delivery.from)) : juce::String ("true"));
}
} // namespace shutterbeat::window
