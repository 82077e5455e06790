#include "spotting/Rights.h"

#include "time/Clock.h"
#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::spotting
{
namespace
{
using time::Rational;

/// Letters and digits only.
std::string bare (std::string_view text)
{
    std::string clean;
    for (const char c : text)
        if ((c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z'))
            clean += c;
        else if (c >= 'a' && c <= 'z')
            clean += static_cast<char> (c - 'a' + 'A');
        else if (c != '-' && c != '.' && c != ' ')
            clean += '?';
    return clean;
}

bool digitsOnly (std::string_view text)
{
    return ! text.empty() && std::all_of (text.begin(), text.end(), [] (char c) { return c >= '0' && c <= '9'; });
}

/// The check digit of nine digits: (10 - (first + sum of i * digit i) mod 10) mod 10.
char checkDigit (std::string_view nine, int first)
{
    int sum = first;
    for (int i = 0; i < 9; ++i)
        sum += (i + 1) * (nine[static_cast<std::size_t> (i)] - '0');
    return static_cast<char> ('0' + (10 - sum % 10) % 10);
}

Rational sumOf (const std::vector<Interest>& interests)
{
    Rational sum;
    for (const auto& interest : interests)
        sum += interest.share;
    return sum;
}

void checkInterest (std::vector<std::string>& faults, const std::string& where, const Interest& interest, bool writer)
{
    if (! (writer ? isWriterRole (interest.role) : isPublisherRole (interest.role)))
        faults.push_back (where + interest.name + ": role \"" + interest.role + "\" is not one of "
                          + (writer ? "C, A, CA, AR, AD, TR" : "E, SE, AM"));
    if (interest.share.sign() < 0)
        faults.push_back (where + interest.name + ": a share below zero");
    if (! interest.ipi.empty())
        if (const auto ipi = checkIpi (interest.ipi); ! ipi)
            faults.push_back (where + interest.name + ": " + ipi.error().text());
}
} // namespace

const std::array<ProductionField, 13>& productionFields()
{
    static const std::array<ProductionField, 13> fields{ {
        { "other_title", "Also known as", &Production::otherTitle },
        { "episode", "Episode", &Production::episode },
        { "number", "Production number", &Production::number },
        { "kind", "Kind", &Production::kind },
        { "version", "Version", &Production::version },
        { "year", "Year", &Production::year },
        { "country", "Country", &Production::country },
        { "territory", "Territory", &Production::territory },
        { "language", "Language", &Production::language },
        { "company", "Company", &Production::company },
        { "contact", "Contact", &Production::contact },
        { "release", "First shown", &Production::release },
        { "prepared_by", "Prepared by", &Production::preparedBy },
    } };
    return fields;
}

std::vector<UsageCode> usualUsages()
{
    return { { "BI", "background, instrumental" },
             { "BV", "background, vocal" },
             { "VI", "visual, instrumental: the player is seen" },
             { "VV", "visual, vocal: the singer is seen" },
             { "FI", "featured, instrumental" },
             { "FV", "featured, vocal" },
             { "OT", "opening theme" },
             { "CT", "closing theme" },
             { "PD", "public domain" } };
}

std::vector<UsageCode> usagesOf (const Book& book)
{
    return book.usages.empty() ? usualUsages() : book.usages.list();
}

Result<std::string> checkIswc (std::string_view text)
{
    const auto clean = bare (text);
    if (clean.size() != 11 || clean[0] != 'T' || ! digitsOnly (std::string_view (clean).substr (1)))
        return usageError ("ISWC \"" + std::string (text) + "\"", "is not T, nine digits and a check digit, as in T-034.524.680-1");
    const auto right = checkDigit (std::string_view (clean).substr (1, 9), 1);
    if (clean[10] != right)
        return usageError ("ISWC \"" + std::string (text) + "\"",
                           std::string ("has the check digit ") + clean[10] + " where " + right + " fits; one digit is wrong");
    return "T-" + clean.substr (1, 3) + "." + clean.substr (4, 3) + "." + clean.substr (7, 3) + "-" + clean[10];
}

Result<std::string> checkIpi (std::string_view text)
{
    auto clean = bare (text);
    const std::string where = "IPI \"" + std::string (text) + "\"";
    if (! clean.empty() && clean[0] == 'I')
    {
        if (clean.size() != 11 || ! digitsOnly (std::string_view (clean).substr (1)))
            return usageError (where, "is not a base number: I, nine digits and a check digit, as in I-000000229-7");
        const auto right = checkDigit (std::string_view (clean).substr (1, 9), 2);
        if (clean[10] != right)
            return usageError (where,
                               std::string ("has the check digit ") + clean[10] + " where " + right + " fits; one digit is wrong");
        return "I-" + clean.substr (1, 9) + "-" + clean[10];
    }
    if (! digitsOnly (clean) || clean.size() < 3 || clean.size() > 11)
        return usageError (where, "is not a name number of up to 11 digits, as in 00000000199");
    clean.insert (0, 11 - clean.size(), '0');
    int sum = 0;
    for (int i = 0; i < 9; ++i)
        sum += (10 - i) * (clean[static_cast<std::size_t> (i)] - '0');
    // A remainder of 1 would ask for 100: no such number is given out.
    const auto right = time::padded ((101 - sum % 101) % 101 % 100, 2);
    if (clean.substr (9) != right)
        return usageError (where, "ends in " + clean.substr (9) + " where " + right + " fits; one digit is wrong");
    return clean;
}

bool isWriterRole (std::string_view role)
{
    for (const char* known : { "C", "A", "CA", "AR", "AD", "TR" })
        if (role == known)
            return true;
    return false;
}

bool isPublisherRole (std::string_view role)
{
    return role == "E" || role == "SE" || role == "AM";
}

std::string percentText (const Rational& percent)
{
    if (percent.isWhole())
        return time::fractionText (percent);
    const auto hundred = percent * Rational (100);
    if (hundred.isWhole())
        return time::shortDecimalText (percent, 2);
    const auto whole = time::floorOf (percent);
    const auto rest = percent - Rational (whole);
    return (whole != 0 ? std::to_string (whole) + " " : "") + time::fractionText (rest);
}

std::vector<std::string> faultsOf (const Work& work)
{
    std::vector<std::string> faults;
    const std::string where = "work \"" + work.title + "\": ";
    if (work.title.empty())
        faults.push_back ("work " + work.id + " has no title");
    if (! work.iswc.empty())
        if (const auto iswc = checkIswc (work.iswc); ! iswc)
            faults.push_back (where + iswc.error().text());
    for (const auto& writer : work.writers)
        checkInterest (faults, where, writer, true);
    for (const auto& publisher : work.publishers)
        checkInterest (faults, where, publisher, false);
    if (! work.protectedByCopyright)
        return faults; // nobody has a share in it
    if (work.writers.empty())
        faults.push_back (where + "no writer is entered");
    const auto writers = sumOf (work.writers), publishers = sumOf (work.publishers);
    const Rational whole (100);
    if (work.sum == ShareSum::together)
    {
        if (writers + publishers != whole)
            faults.push_back (where + "the shares of all sum to " + percentText (writers + publishers) + ", not 100");
        return faults;
    }
    if (! work.writers.empty() && writers != whole)
        faults.push_back (where + "the shares of its writers sum to " + percentText (writers) + ", not 100");
    if (! work.publishers.empty() && publishers != whole)
        faults.push_back (where + "the shares of its publishers sum to " + percentText (publishers) + ", not 100");
    return faults;
}

RightsTable rightsOf (const Book& book, const BookTimes& times)
{
    RightsTable table;
    for (const auto& work : book.works)
        for (auto& fault : faultsOf (work))
            table.faults.push_back (std::move (fault));
    const auto codes = usagesOf (book);
    const auto add = [&] (RightsRow row)
    {
        row.seconds = book.production.roundUp ? time::ceilOf (row.exact) : time::roundOf (row.exact);
        table.total += row.seconds;
        table.exact += row.exact;
        table.rows.push_back (row);
    };
    for (const auto& cue : times.cues)
    {
        if (cue.cue.kind != CueKind::music && cue.cue.kind != CueKind::seenMusic)
            continue;
        if (! cue.in || ! cue.length)
        {
            table.faults.push_back ("cue " + cue.cue.number + " is left out: "
                                    + (cue.lost.empty() ? "it does not end in the reel it begins in" : cue.lost));
            continue;
        }
        std::vector<RightsRow> rows;
        for (const auto& use : book.uses)
        {
            if (use.cue != cue.cue.id)
                continue;
            const auto work = std::find_if (book.works.begin(), book.works.end(), [&] (const Work& w) { return w.id == use.work; });
            if (work == book.works.end())
            {
                table.faults.push_back ("cue " + cue.cue.number + " uses work " + use.work + ", which the book does not have");
                continue;
            }
            const auto from = use.from.value_or (Rational (0)), to = use.to.value_or (*cue.length);
            if (to <= from || from.sign() < 0 || to > *cue.length)
                table.faults.push_back ("cue " + cue.cue.number + " is " + time::clockText (*cue.length) + " long and uses \""
                                        + work->title + "\" from " + time::clockText (from) + " to " + time::clockText (to));
            if (std::none_of (codes.begin(), codes.end(), [&] (const UsageCode& c) { return c.code == use.usage; }))
                table.faults.push_back ("cue " + cue.cue.number + ": usage \"" + use.usage
                                        + "\" is not in the book's table of codes");
            if (to > from)
                rows.push_back ({ &cue, &*work, use.usage, cue.in->clock + from, to - from, 0 });
        }
        if (rows.empty())
        {
            table.faults.push_back ("cue " + cue.cue.number + " has no work yet");
            rows.push_back ({ &cue, nullptr, "", cue.in->clock, *cue.length, 0 });
        }
        std::stable_sort (rows.begin(), rows.end(), [] (const RightsRow& a, const RightsRow& b) { return a.in < b.in; });
        for (std::size_t i = 1; i < rows.size(); ++i)
            if (rows[i].in < rows[i - 1].in + rows[i - 1].exact)
                table.faults.push_back ("cue " + cue.cue.number + ": \"" + (rows[i].work != nullptr ? rows[i].work->title : "")
                                        + "\" begins before \"" + (rows[i - 1].work != nullptr ? rows[i - 1].work->title : "")
                                        + "\" ends; both are listed in full");
        for (const auto& row : rows)
            add (row);
    }
    for (const auto& use : book.uses)
        if (cueOf (book, use.cue) == nullptr)
            table.faults.push_back ("work " + use.work + " is used in cue " + use.cue + ", which the book does not have");
    return table;
}
} // namespace shutterbeat::spotting
