#include "time/Rational.h"

#include "Catch.h"

#include <array>

using namespace shutterbeat::time;

namespace
{
using Wide = std::array<std::uint64_t, 4>; ///< 256 bits, lowest first

__extension__ typedef unsigned __int128 UInt128;

UInt128 magnitude (Int128 x)
{
    return x < 0 ? UInt128{ 0 } - static_cast<UInt128> (x) : static_cast<UInt128> (x);
}

Wide product (UInt128 a, UInt128 b)
{
    const std::array<std::uint64_t, 2> left{ static_cast<std::uint64_t> (a), static_cast<std::uint64_t> (a >> 64) };
    const std::array<std::uint64_t, 2> right{ static_cast<std::uint64_t> (b), static_cast<std::uint64_t> (b >> 64) };
    Wide out{};
    for (std::size_t i = 0; i < 2; ++i)
    {
        UInt128 carry = 0;
        for (std::size_t j = 0; j < 2; ++j)
        {
            carry += static_cast<UInt128> (left[i]) * right[j] + out[i + j];
            out[i + j] = static_cast<std::uint64_t> (carry);
            carry >>= 64;
        }
        out[i + 2] += static_cast<std::uint64_t> (carry);
    }
    return out;
}

/// -1, 0 or 1 by cross products of 256 bits: the schoolbook way, which Rational can't take.
int schoolCompare (const Rational& a, const Rational& b)
{
    if (a.sign() != b.sign())
        return a.sign() < b.sign() ? -1 : 1;
    const Wide left = product (magnitude (a.numerator()), magnitude (b.denominator()));
    const Wide right = product (magnitude (b.numerator()), magnitude (a.denominator()));
    for (std::size_t i = 4; i-- > 0;)
        if (left[i] != right[i])
            return (left[i] < right[i]) == (a.sign() > 0) ? -1 : 1;
    return 0;
}

int sign (std::strong_ordering order)
{
    return order < 0 ? -1 : order > 0 ? 1 : 0;
}

/// Numbers of every size up to 127 bits.
Int128 wideNumber (int bits)
{
    const auto high = *rc::gen::arbitrary<std::uint64_t>();
    const auto low = *rc::gen::arbitrary<std::uint64_t>();
    const auto shift = *rc::gen::inRange (1, bits + 1);
    const UInt128 all = (static_cast<UInt128> (high) << 64) | low;
    const auto kept = static_cast<Int128> (all >> (128 - shift));
    return *rc::gen::arbitrary<bool>() ? kept : -kept;
}

Rational rational (int bits = 127)
{
    const Int128 numerator = wideNumber (bits);
    Int128 denominator = wideNumber (bits);
    if (denominator == 0)
        denominator = 1;
    return { numerator, denominator };
}

Int128 gcd (Int128 a, Int128 b)
{
    for (a = a < 0 ? -a : a; b != 0;)
    {
        const Int128 rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}
} // namespace

TEST_CASE ("Fractions are kept in lowest terms with the sign on top")
{
    CHECK_PROPERTY ("lowest terms",
                    []
                    {
                        const Rational x = rational();
                        RC_ASSERT (x.valid());
                        RC_ASSERT (x.denominator() > 0);
                        RC_ASSERT (gcd (x.numerator(), x.denominator()) == 1);
                    });
    CHECK (Rational (6, -4) == Rational (-3, 2));
    CHECK (Rational (0, -7) == Rational (0));
    CHECK (Rational (14, 7).isWhole());
    CHECK_FALSE (Rational (1, 0).valid());
}

TEST_CASE ("Field laws hold wherever the numbers fit")
{
    CHECK_PROPERTY ("field laws",
                    []
                    {
                        const Rational a = rational (30), b = rational (30), c = rational (30);
                        RC_ASSERT (a + b == b + a);
                        RC_ASSERT (a * b == b * a);
                        RC_ASSERT ((a + b) + c == a + (b + c));
                        RC_ASSERT ((a * b) * c == a * (b * c));
                        RC_ASSERT (a * (b + c) == a * b + a * c);
                        RC_ASSERT (a + Rational (0) == a);
                        RC_ASSERT (a * Rational (1) == a);
                        RC_ASSERT (a - a == Rational (0));
                        RC_ASSERT (-(-a) == a);
                        RC_ASSERT (a - b == a + (-b));
                        if (b.sign() != 0)
                        {
                            RC_ASSERT (b / b == Rational (1));
                            RC_ASSERT ((a / b) * b == a);
                        }
                        RC_ASSERT ((a < b) == ((a - b).sign() < 0));
                        RC_ASSERT ((a + b).valid());
                    });
}

TEST_CASE ("Comparisons are exact for values of any size")
{
    CHECK_PROPERTY ("as by 256-bit cross products",
                    []
                    {
                        const Rational a = rational(), b = rational();
                        RC_ASSERT (sign (a <=> b) == schoolCompare (a, b));
                        RC_ASSERT ((a == b) == (schoolCompare (a, b) == 0));
                        RC_ASSERT (sign (b <=> a) == -schoolCompare (a, b));
                    });
    CHECK_PROPERTY ("neighbours that differ far behind the point",
                    []
                    {
                        const Int128 big = (Int128{ 1 } << 120) + wideNumber (100);
                        const Rational a (big, big + 1), b (big - 1, big);
                        RC_ASSERT (b < a);
                        RC_ASSERT (-a < -b);
                        RC_ASSERT (sign (a <=> b) == schoolCompare (a, b));
                    });
    const Int128 most = ~(Int128{ 1 } << 127);
    CHECK (Rational (most, most - 1) < Rational (most - 1, most - 2));
    CHECK (Rational (-most, 1) < Rational (most, 1));
    CHECK ((Rational (most, most - 1) <=> Rational (most, most - 1)) == std::strong_ordering::equal);
}

TEST_CASE ("What does not fit is invalid and stays so, never wrong")
{
    CHECK_PROPERTY ("products and sums",
                    []
                    {
                        const Rational a = rational(), b = rational();
                        const Rational product = a * b;
                        if (product.valid() && b.sign() != 0)
                        {
                            const Rational back = product / b;
                            RC_ASSERT (back == a || ! back.valid());
                        }
                        const Rational sum = a + b;
                        if (sum.valid())
                        {
                            const Rational back = sum - b;
                            RC_ASSERT (back == a || ! back.valid());
                            RC_ASSERT ((sum < a) == (b.sign() < 0));
                        }
                    });
    const Int128 most = ~(Int128{ 1 } << 127);
    const Rational huge (most, 1);
    const std::array<Rational, 8> gone{ huge + Rational (1),    huge * Rational (2),
                                        -huge - huge,           Rational (1, most) / huge,
                                        Rational (1) / 0,       Rational (1, 0),
                                        huge + Rational (1, 2), Rational (Int128{ 1 } << 127, 3) };
    for (const auto& x : gone)
    {
        CHECK_FALSE (x.valid());
        CHECK_FALSE ((x + Rational (1)).valid());
        CHECK_FALSE ((Rational (1) - x).valid());
        CHECK_FALSE ((x * Rational (0)).valid());
        CHECK_FALSE ((Rational (1) / x).valid());
        CHECK_FALSE ((-x).valid());
        CHECK (x != Rational (0));
        CHECK (x == Rational (1, 0));
        CHECK (fractionText (x) == "overflow");
        CHECK (decimalText (x, 2) == "overflow");
        CHECK (floorOf (x) == 0);
        CHECK (ceilOf (x) == 0);
        CHECK (roundOf (x) == 0);
    }
}

TEST_CASE ("Floor, ceiling and nearest: ties go up, below zero too (DESIGN 4)")
{
    struct Row
    {
        Rational x;
        std::int64_t floor, ceil, round;
    };
    for (const Row& row : { Row{ { 5, 2 }, 2, 3, 3 }, Row{ { -5, 2 }, -3, -2, -2 }, Row{ { 7, 3 }, 2, 3, 2 },
                            Row{ { -7, 3 }, -3, -2, -2 }, Row{ { -8, 3 }, -3, -2, -3 }, Row{ 4, 4, 4, 4 }, Row{ -4, -4, -4, -4 },
                            Row{ { 1, 2 }, 0, 1, 1 }, Row{ { -1, 2 }, -1, 0, 0 } })
    {
        INFO (fractionText (row.x));
        CHECK (floorOf (row.x) == row.floor);
        CHECK (ceilOf (row.x) == row.ceil);
        CHECK (roundOf (row.x) == row.round);
    }
    CHECK_PROPERTY ("they bracket",
                    []
                    {
                        const Rational x = rational (60);
                        RC_ASSERT (Rational (floorOf (x)) <= x);
                        RC_ASSERT (x < Rational (floorOf (x)) + 1);
                        RC_ASSERT (ceilOf (x) == -floorOf (-x));
                        RC_ASSERT (roundOf (x) == floorOf (x + Rational (1, 2)));
                    });
    const Int128 most = ~(Int128{ 1 } << 127);
    CHECK (floorOf (Rational (most, 2)) == std::numeric_limits<std::int64_t>::max());
    CHECK (ceilOf (Rational (-most, 2)) == std::numeric_limits<std::int64_t>::min());
    // Nearest needs no more room than the value itself.
    CHECK (roundOf (Rational (most, most - 1)) == 1);
    CHECK (roundOf (Rational (most - 2, most)) == 1);
    CHECK (roundOf (Rational (most, 1)) == std::numeric_limits<std::int64_t>::max());
}

TEST_CASE ("Fractions as text, there and back")
{
    CHECK_PROPERTY ("any size",
                    []
                    {
                        const Rational x = rational();
                        const auto back = parseRational (fractionText (x));
                        RC_ASSERT (back.ok());
                        RC_ASSERT (*back == x);
                    });
    CHECK_PROPERTY ("decimals",
                    []
                    {
                        const auto decimals = *rc::gen::inRange (0, 19);
                        const Rational x = rational (40);
                        const auto back = parseRational (decimalText (x, decimals));
                        RC_ASSERT (back.ok());
                        Rational unit (1);
                        for (int i = 0; i < decimals; ++i)
                            unit = unit / Rational (10);
                        const Rational off = *back - x;
                        RC_ASSERT (off <= unit / Rational (2));
                        RC_ASSERT (-off < unit / Rational (2) || decimals == 0 || -off == unit / Rational (2));
                        RC_ASSERT (-off < unit / Rational (2)); // a tie went up
                    });
    struct Row
    {
        const char* text;
        Rational value;
    };
    for (const Row& row :
         { Row{ "12", 12 }, Row{ "-12", -12 }, Row{ "12.375", { 99, 8 } }, Row{ "-0.5", { -1, 2 } }, Row{ "0.125", { 1, 8 } },
           Row{ "24000/1001", { 24000, 1001 } }, Row{ "-6/4", { -3, 2 } }, Row{ "007", 7 }, Row{ "1.10", { 11, 10 } } })
    {
        const auto read = parseRational (row.text);
        INFO (row.text);
        REQUIRE (read);
        CHECK (*read == row.value);
    }
    for (const char* text : { "",
                              "-",
                              "+1",
                              "1,5",
                              "1.",
                              ".5",
                              "-.5",
                              "1.2.3",
                              "1.-5",
                              "--1.5",
                              "1e3",
                              "1/0",
                              "1/-2",
                              "1/",
                              "/2",
                              "1/2/3",
                              " 1",
                              "1 ",
                              "0x10",
                              "1.5/2",
                              "nan",
                              "inf",
                              "9999999999999999999999999999999999999999",
                              "1/9999999999999999999999999999999999999999",
                              "0.000000000000000000000000000000000000000001",
                              "\xd9\xa1" })
    {
        INFO (text);
        CHECK_FALSE (parseRational (text));
    }
}

TEST_CASE ("Short decimals have no zeros at the end")
{
    CHECK (time::shortDecimalText (Rational (18), 2) == "18");
    CHECK (time::shortDecimalText (Rational (20), 0) == "20");
    CHECK (time::shortDecimalText (Rational (37, 2), 3) == "18.5");
    CHECK (time::shortDecimalText (Rational (200, 11), 2) == "18.18");
    CHECK (time::shortDecimalText (Rational (-1, 1000), 2) == "0");
    CHECK (time::shortDecimalText (Rational (1, 0), 2) == "overflow");
}

TEST_CASE ("Decimals are rounded once, ties up, and zero has no sign (WORKED I)")
{
    CHECK (decimalText ({ 1, 8 }, 2) == "0.13");
    CHECK (decimalText ({ -1, 8 }, 2) == "-0.12");
    CHECK (decimalText ({ -1, 200 }, 2) == "0.00");
    CHECK (decimalText ({ -1, 1000 }, 2) == "0.00");
    CHECK (decimalText ({ 599996, 10000 }, 3) == "60.000");
    CHECK (decimalText ({ 999, 1000 }, 2) == "1.00");
    CHECK (decimalText (7, 0) == "7");
    CHECK (decimalText ({ 15, 2 }, 0) == "8");
    CHECK (decimalText ({ 1, 3 }, 18) == "0.333333333333333333");
    CHECK (decimalText ({ 5, 1000 }, 2) == "0.01");
}
