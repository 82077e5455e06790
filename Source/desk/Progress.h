#pragma once

#include <functional>
#include <string>

namespace shutterbeat::desk
{
/// How long work tells where it is: a fraction from 0 to 1 and what is being done. Answering false stops the work,
/// which then ends with ErrorCode::cancelled. An empty function is allowed and means nobody is watching.
using Progress = std::function<bool (double fraction, const std::string& what)>;
} // namespace shutterbeat::desk
