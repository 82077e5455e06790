#include "desk/KeySheet.h"

#include "store/WholeFile.h"

namespace shutterbeat::desk
{
Result<std::vector<std::string>> writeKeySheet (const std::string& path, const std::vector<KeyGroup>& groups, bool letter)
{
    const auto sheet = sheets::keySheet (groups, letter ? sheets::Paper::letter : sheets::Paper::a4);
    if (! sheet)
        return sheet.error();
    if (const auto written = store::writeWhole (path, sheet->pdf); ! written)
        return written.error();
    return sheet->notes;
}
} // namespace shutterbeat::desk
