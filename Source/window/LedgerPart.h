#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// Between what a part of the ledger shows and its sides, in pixels.
inline constexpr int partEdge = 12;

/// What the ledger shows for one part of the work.
class LedgerPart : public juce::Component
{
public:
    /// The book, its selection or what is shown of it has changed.
    virtual void refresh() = 0;
    /// The film stands elsewhere.
    virtual void moved() {}
};
} // namespace shutterbeat::window
