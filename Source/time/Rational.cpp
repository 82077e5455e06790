#include "time/Rational.h"

#include <limits>
#include <numeric>
#include <optional>

namespace shutterbeat::time
{
namespace
{
constexpr Int128 lowest = static_cast<Int128> (1) << 127;

Int128 magnitude (Int128 x)
{
    return x < 0 ? -x : x;
}

Int128 gcd (Int128 a, Int128 b)
{
    a = magnitude (a);
    b = magnitude (b);
    while (b != 0)
    {
        // Most numbers are short, and short ones are divided many times faster.
        constexpr Int128 shortest = std::numeric_limits<std::uint64_t>::max();
        if (a <= shortest && b <= shortest)
            return std::gcd (static_cast<std::uint64_t> (a), static_cast<std::uint64_t> (b));
        const Int128 rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

Rational overflowed()
{
    return Rational (0, 0);
}

bool product (Int128 a, Int128 b, Int128& out)
{
    return ! __builtin_mul_overflow (a, b, &out);
}

Int128 floorDivide (Int128 a, Int128 b)
{
    const Int128 quotient = a / b;
    return (a % b != 0 && a < 0) ? quotient - 1 : quotient;
}

std::int64_t clampTo64 (Int128 x)
{
    constexpr auto low = std::numeric_limits<std::int64_t>::min();
    constexpr auto high = std::numeric_limits<std::int64_t>::max();
    return x < low ? low : x > high ? high : static_cast<std::int64_t> (x);
}

/// As parseWhole, for every number whose magnitude is below 2^127: what fractionText writes can always be read back.
std::optional<Int128> parseLong (std::string_view text)
{
    const bool negative = ! text.empty() && text[0] == '-';
    const auto digits = text.substr (negative ? 1 : 0);
    if (digits.empty())
        return {};
    Int128 value = 0;
    for (const char c : digits)
        if (c < '0' || c > '9' || __builtin_mul_overflow (value, Int128{ 10 }, &value)
            || __builtin_add_overflow (value, Int128{ c - '0' }, &value))
            return {};
    return negative ? -value : value;
}

std::string digitsOf (Int128 x)
{
    if (x == 0)
        return "0";
    const bool negative = x < 0;
    std::string reversed;
    for (; x != 0; x /= 10)
        reversed += static_cast<char> ('0' + static_cast<int> (negative ? -(x % 10) : x % 10));
    if (negative)
        reversed += '-';
    return { reversed.rbegin(), reversed.rend() };
}
} // namespace

Rational::Rational (Int128 numerator, Int128 denominator)
{
    // The lowest 128-bit number has no negative; refuse it rather than wrap.
    if (denominator == 0 || numerator == lowest || denominator == lowest)
    {
        num = 0;
        den = 0;
        return;
    }
    if (denominator < 0)
    {
        numerator = -numerator;
        denominator = -denominator;
    }
    const Int128 common = gcd (numerator, denominator);
    num = numerator / common;
    den = denominator / common;
}

Rational Rational::operator-() const
{
    return valid() ? Rational (-num, den) : *this;
}

Rational operator+ (const Rational& a, const Rational& b)
{
    if (! a.valid() || ! b.valid())
        return overflowed();
    // Over the lowest common denominator, so that sums of many equal speeds do not grow.
    const Int128 common = gcd (a.den, b.den);
    const Int128 aScale = b.den / common;
    const Int128 bScale = a.den / common;
    Int128 left = 0, right = 0, sum = 0, den = 0;
    if (! product (a.num, aScale, left) || ! product (b.num, bScale, right) || __builtin_add_overflow (left, right, &sum)
        || ! product (a.den, aScale, den))
        return overflowed();
    return { sum, den };
}

Rational operator- (const Rational& a, const Rational& b)
{
    return a + (-b);
}

Rational operator* (const Rational& a, const Rational& b)
{
    if (! a.valid() || ! b.valid())
        return overflowed();
    const Int128 g1 = gcd (a.num, b.den);
    const Int128 g2 = gcd (b.num, a.den);
    Int128 num = 0, den = 0;
    if (g1 == 0 || g2 == 0)
        return { 0, 1 };
    if (! product (a.num / g1, b.num / g2, num) || ! product (a.den / g2, b.den / g1, den))
        return overflowed();
    return { num, den };
}

Rational operator/ (const Rational& a, const Rational& b)
{
    if (! a.valid() || ! b.valid() || b.num == 0)
        return overflowed();
    return a * Rational (b.den, b.num);
}

std::strong_ordering operator<=> (const Rational& a, const Rational& b)
{
    if (! a.valid() || ! b.valid())
        return a.den <=> b.den;
    Int128 left = 0, right = 0;
    if (product (a.num, b.den, left) && product (b.num, a.den, right))
        return left <=> right;

    // Too large to cross-multiply: compare whole parts, then the reciprocals of what remains.
    Int128 an = a.num, ad = a.den, bn = b.num, bd = b.den;
    bool flipped = false;
    for (;;)
    {
        const Int128 aWhole = floorDivide (an, ad);
        const Int128 bWhole = floorDivide (bn, bd);
        if (aWhole != bWhole)
            return (aWhole < bWhole) != flipped ? std::strong_ordering::less : std::strong_ordering::greater;
        const Int128 aRest = an - aWhole * ad;
        const Int128 bRest = bn - bWhole * bd;
        if (aRest == 0 || bRest == 0)
        {
            if (aRest == bRest)
                return std::strong_ordering::equal;
            return (aRest == 0) != flipped ? std::strong_ordering::less : std::strong_ordering::greater;
        }
        an = ad;
        ad = aRest;
        bn = bd;
        bd = bRest;
        flipped = ! flipped;
    }
}

std::int64_t floorOf (const Rational& x)
{
    return x.valid() ? clampTo64 (floorDivide (x.numerator(), x.denominator())) : 0;
}

std::int64_t ceilOf (const Rational& x)
{
    return x.valid() ? clampTo64 (-floorDivide (-x.numerator(), x.denominator())) : 0;
}

std::int64_t roundOf (const Rational& x)
{
    if (! x.valid())
        return 0;
    // Not floor (x + 1/2): that sum can need more room than x itself.
    const Int128 whole = floorDivide (x.numerator(), x.denominator());
    const Int128 rest = x.numerator() - whole * x.denominator();
    return clampTo64 (rest >= x.denominator() - rest ? whole + 1 : whole);
}

double toDouble (const Rational& x)
{
    return x.valid() ? static_cast<double> (static_cast<long double> (x.numerator()) / static_cast<long double> (x.denominator()))
                     : 0.0;
}

std::string fractionText (const Rational& x)
{
    if (! x.valid())
        return "overflow";
    return x.isWhole() ? digitsOf (x.numerator()) : digitsOf (x.numerator()) + "/" + digitsOf (x.denominator());
}

Result<Rational> parseRational (std::string_view text)
{
    const auto bad = [&] (std::string why) { return usageError ("\"" + std::string (text) + "\"", std::move (why)); };

    const auto slash = text.find ('/');
    if (slash != std::string_view::npos)
    {
        const auto numerator = parseLong (text.substr (0, slash));
        const auto denominator = parseLong (text.substr (slash + 1));
        if (! numerator || ! denominator || *denominator <= 0)
            return bad ("is not a fraction; write it as n/d with d above zero");
        return Rational (*numerator, *denominator);
    }
    const auto point = text.find ('.');
    if (point == std::string_view::npos)
    {
        const auto whole = parseLong (text);
        if (! whole)
            return bad ("is not a number; write it with digits and a decimal point, or as n/d");
        return Rational (*whole, 1);
    }
    const auto decimals = text.substr (point + 1);
    const bool negative = ! text.empty() && text[0] == '-';
    std::string digits (text.substr (0, point));
    if (negative)
        digits.erase (0, 1);
    digits += decimals;
    const auto whole = parseLong (digits);
    if (! whole || decimals.empty() || decimals.size() > 38 || point == (negative ? 1u : 0u) || digits[0] == '-'
        || digits[0] == '+')
        return bad ("is not a number; write it with digits and a decimal point, or as n/d");
    Int128 scale = 1;
    for (std::size_t i = 0; i < decimals.size(); ++i)
        scale *= 10;
    return Rational (negative ? -*whole : *whole, scale);
}

std::string decimalText (const Rational& x, int decimals)
{
    if (! x.valid())
        return "overflow";
    Int128 scale = 1;
    for (int i = 0; i < decimals; ++i)
        scale *= 10;
    const Rational scaled = x * Rational (scale, 1) + Rational (1, 2);
    if (! scaled.valid())
        return "overflow";
    const Int128 units = floorDivide (scaled.numerator(), scaled.denominator());
    std::string digits = digitsOf (magnitude (units));
    if (decimals > 0)
    {
        const auto width = static_cast<std::size_t> (decimals);
        if (digits.size() <= width)
            digits.insert (0, width + 1 - digits.size(), '0');
        digits.insert (digits.size() - width, 1, '.');
    }
    return units < 0 ? "-" + digits : digits;
}

std::string shortDecimalText (const Rational& x, int decimals)
{
    auto text = decimalText (x, decimals);
    if (text.find ('.') == std::string::npos)
        return text;
    text.erase (text.find_last_not_of ('0') + 1);
    if (text.back() == '.')
        text.pop_back();
    return text;
}
} // namespace shutterbeat::time
