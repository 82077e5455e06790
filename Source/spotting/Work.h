#pragma once

#include "film/Unknown.h"
#include "time/Rational.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Somebody with a share in a work: a writer or a publisher.
struct Interest
{
    std::string name;     ///< as societies want it: Surname, First, Middle
    std::string role;     ///< code: C, A, CA, AR, AD, TR of writers; E, SE, AM of publishers
    std::string ipi;      ///< name number, 11 digits, or base number I-999999999-9; empty when not known
    std::string society;  ///< empty: none
    time::Rational share; ///< percent, exact
    film::Unknown unknown;

    friend bool operator== (const Interest&, const Interest&) = default;
};

/// How the shares of a work are to add up (handbook 8).
enum class ShareSum
{
    apart,   ///< writers 100, publishers 100
    together ///< all of them 100
};

/// A piece of music as societies know it, entered once.
struct Work
{
    std::string id;
    std::string title;
    std::string iswc; ///< T-034.524.680-1; empty when not known
    std::vector<Interest> writers, publishers;
    ShareSum sum = ShareSum::apart;
    bool protectedByCopyright = true; ///< else "non-copyright" is printed
    std::string note;
    film::Unknown unknown;

    friend bool operator== (const Work&, const Work&) = default;
};

/// A work as a cue uses it.
struct WorkUse
{
    std::string cue, work;                  ///< ids
    std::string usage;                      ///< a code of the book's table: BI
    std::optional<time::Rational> from, to; ///< seconds from the cue's in; none: the whole cue
    film::Unknown unknown;

    friend bool operator== (const WorkUse&, const WorkUse&) = default;
};

/// A code for how music is used, and what it stands for. Codes differ between societies.
struct UsageCode
{
    std::string code, meaning;

    friend bool operator== (const UsageCode&, const UsageCode&) = default;
};

/// What a rights cue sheet says of the production besides the book's title.
struct Production
{
    std::string otherTitle, episode, number, kind, version, year, country, territory, language, company, contact, release,
        preparedBy;
    bool roundUp = false; ///< durations to the next whole second, else to the nearest
    film::Unknown unknown;

    friend bool operator== (const Production&, const Production&) = default;
};

/// A field of Production: its name in files, and the words on paper.
struct ProductionField
{
    const char* name;
    const char* words;
    std::string Production::*text;
};
/// All fields of text, in the order they are printed.
const std::array<ProductionField, 13>& productionFields();

/// The usage codes a book begins with (handbook 8).
std::vector<UsageCode> usualUsages();
} // namespace shutterbeat::spotting
