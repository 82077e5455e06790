#pragma once

#include "spotting/Book.h"
#include "spotting/Times.h"

#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::spotting
{
/// Checks an ISWC, with or without its points and hyphens: T, nine digits, a check digit (ISO 15707; handbook 8).
/// Gives it as it is printed, "T-034.524.680-1". Error: another form, or a check digit that does not fit.
Result<std::string> checkIswc (std::string_view text);

/// Checks an IPI name number (up to 11 digits, the last two a check modulo 101) or base number (I-999999999-9, check modulo 10;
/// handbook 8). Gives it as it is printed: "00000000199", "I-000000229-7". Error: as for checkIswc.
Result<std::string> checkIpi (std::string_view text);

/// Whether a role is one of writers (C, A, CA, AR, AD, TR) or of publishers (E, SE, AM).
bool isWriterRole (std::string_view role);
bool isPublisherRole (std::string_view role);

/// "33 1/3", "50", "12.5" of exact percent: a whole number, two decimals where that is exact, else a fraction.
std::string percentText (const time::Rational& percent);

/// What is wrong with a work, a sentence each: shares that do not sum to what its convention asks (naming the sum), unknown roles,
/// numbers whose check digit fails, no writer.
std::vector<std::string> faultsOf (const Work& work);

/// A line of the rights sheet: a work in a cue, or music of a cue without a work.
struct RightsRow
{
    const CueTimes* cue = nullptr;
    const Work* work = nullptr; ///< null: none entered for this cue
    std::string usage;
    time::Rational in;        ///< clock of its in, exact
    time::Rational exact;     ///< seconds
    std::int64_t seconds = 0; ///< as printed: rounded once
};

/// The music of a book for a collecting society: cues that are music or seen music, in order.
struct RightsTable
{
    std::vector<RightsRow> rows;
    std::int64_t total = 0;          ///< seconds: the sum of the printed rows
    time::Rational exact;            ///< the sum of the exact ones
    std::vector<std::string> faults; ///< of works, of uses, of overlapping rows; a sentence each
};

RightsTable rightsOf (const Book& book, const BookTimes& times);

/// The book's usage codes: its own table, or the usual one while it has none.
std::vector<UsageCode> usagesOf (const Book& book);
} // namespace shutterbeat::spotting
