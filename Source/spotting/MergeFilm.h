#pragma once

#include "spotting/MergeLog.h"

namespace shutterbeat::spotting
{
/// A print both have. Paths of files stay mine; what the files are like, and what the scan found, is merged.
film::Print mergePrint (MergeLog& log, const MergeItem& item, const film::Print& base, const film::Print& mine,
                        const film::Print& theirs);

/// An edition both have. Which pictures follow each other is one thing (half of one cut list and half of another would be a film
/// that nobody made); what is said of each shot is merged field by field.
film::Edition mergeEdition (MergeLog& log, const MergeItem& item, const film::Edition& base, const film::Edition& mine,
                            const film::Edition& theirs);
} // namespace shutterbeat::spotting
