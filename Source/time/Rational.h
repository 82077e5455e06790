#pragma once

#include "time/Result.h"

#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

namespace shutterbeat::time
{
__extension__ typedef __int128 Int128;

/// An exact fraction, always in lowest terms with a positive denominator.
/// Arithmetic is checked: what does not fit 128 bits gives a value for which valid() is false, and every
/// result computed from that one is invalid too. Ask valid() once, at the end of a computation.
class Rational
{
public:
    constexpr Rational() = default;
    constexpr Rational (std::int64_t whole)
        : num (whole)
    {
    }
    constexpr Rational (int whole)
        : num (whole)
    {
    }
    /// num/den; a denominator of zero gives an invalid value.
    Rational (Int128 numerator, Int128 denominator);

    [[nodiscard]] bool valid() const { return den != 0; }
    [[nodiscard]] Int128 numerator() const { return num; }
    [[nodiscard]] Int128 denominator() const { return den; }
    [[nodiscard]] bool isWhole() const { return den == 1; }
    [[nodiscard]] int sign() const { return num > 0 ? 1 : num < 0 ? -1 : 0; }

    Rational operator-() const;
    friend Rational operator+ (const Rational& a, const Rational& b);
    friend Rational operator- (const Rational& a, const Rational& b);
    friend Rational operator* (const Rational& a, const Rational& b);
    /// Division by zero is invalid.
    friend Rational operator/ (const Rational& a, const Rational& b);
    Rational& operator+= (const Rational& other) { return *this = *this + other; }
    Rational& operator-= (const Rational& other) { return *this = *this - other; }

    /// Exact for all valid values, whatever their size. Invalid values equal nothing but each other.
    friend bool operator== (const Rational& a, const Rational& b) { return a.num == b.num && a.den == b.den; }
    friend std::strong_ordering operator<=> (const Rational& a, const Rational& b);

private:
    Int128 num = 0;
    Int128 den = 1;
};

/// Largest whole number not above x, clamped to the 64-bit range. x must be valid.
std::int64_t floorOf (const Rational& x);
/// Smallest whole number not below x, clamped likewise.
std::int64_t ceilOf (const Rational& x);
/// Nearest whole number; ties go up (towards later), below zero too.
std::int64_t roundOf (const Rational& x);

/// For drawing only; never for a place or a time that is written down.
double toDouble (const Rational& x);

/// "n/d", or "n" when whole; "overflow" when invalid.
std::string fractionText (const Rational& x);

/// Reads "12", "-12", "12.375" (decimal point, never a comma) or "n/d", exactly.
/// Error: anything else, or digits that make 2^127 or more.
Result<Rational> parseRational (std::string_view text);

/// x with exactly `decimals` digits (0 to 18) after a point, rounded once, ties up. "-0.00" is "0.00".
std::string decimalText (const Rational& x, int decimals);

/// The same with no zeros at the end: "18", "18.5".
std::string shortDecimalText (const Rational& x, int decimals);
} // namespace shutterbeat::time
