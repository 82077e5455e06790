#include "sheets/Fonts.h"

#include <fontconfig/fontconfig.h>

namespace shutterbeat::sheets
{
std::vector<std::string> sheetFamilies()
{
    return { "Inter", "JetBrains Mono", "EB Garamond 12" };
}

std::vector<std::string> missingFamilies()
{
    std::vector<std::string> notes;
    for (const auto& family : sheetFamilies())
    {
        FcPattern* wanted = FcPatternCreate();
        FcPatternAddString (wanted, FC_FAMILY, reinterpret_cast<const FcChar8*> (family.c_str()));
        FcConfigSubstitute (nullptr, wanted, FcMatchPattern);
        FcDefaultSubstitute (wanted);
        FcResult outcome = FcResultNoMatch;
        FcPattern* found = FcFontMatch (nullptr, wanted, &outcome);
        FcPatternDestroy (wanted);
        // A font may go by several family names: any of them will do.
        std::string first;
        bool has = false;
        FcChar8* name = nullptr;
        for (int i = 0; found != nullptr && FcPatternGetString (found, FC_FAMILY, i, &name) == FcResultMatch; ++i)
        {
            const std::string text (reinterpret_cast<const char*> (name));
            first = i == 0 ? text : first;
            has = has || text == family;
        }
        if (found != nullptr)
            FcPatternDestroy (found);
        if (! has)
            notes.push_back ("the font " + family + " is not installed; "
                             + (first.empty() ? "no other was found" : first + " is set in its place"));
    }
    return notes;
}
} // namespace shutterbeat::sheets
