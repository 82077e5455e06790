#pragma once

#include "exchange/Written.h"

namespace shutterbeat::tests
{
/// What most lists of these tests say of themselves.
inline const exchange::ListHead head{ "The Runaway Ladder", "2026-05-01" };
} // namespace shutterbeat::tests
