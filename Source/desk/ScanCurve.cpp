#include "desk/ScanCurve.h"

#include "store/WholeFile.h"

namespace shutterbeat::desk
{
Result<Done> writeScanCurve (const scan::ScanResult& result, const std::string& path)
{
    std::string text = "frame,measure\r\n";
    for (std::size_t n = 0; n < result.curve.size(); ++n)
        text += std::to_string (n) + ","
                + time::decimalText (time::Rational (static_cast<int> (result.curve[n] * 1000 + 0.5F), 1000), 3) + "\r\n";
    return store::writeWhole (path, text);
}
} // namespace shutterbeat::desk
