#include "time/Text.h"

#include "Catch.h"

#include <locale>

using namespace shutterbeat::time;

namespace
{
template <class T>
concept trims = requires (T text)
{
    trimmed (std::forward<T> (text));
};
template <class T>
concept splits = requires (T text)
{
    splitAt (std::forward<T> (text), ',');
};
} // namespace

TEST_CASE ("Whole numbers as text")
{
    CHECK (parseWhole ("0") == 0);
    CHECK (parseWhole ("-17") == -17);
    CHECK (parseWhole ("007") == 7);
    CHECK (parseWhole ("999999999999999999") == 999'999'999'999'999'999);
    for (const char* text : { "", "-", "+1", " 1", "1 ", "1.0", "0x1", "1e3", "--1", "1000000000000000000", "\xd9\xa1" })
    {
        INFO (text);
        CHECK_FALSE (parseWhole (text));
    }
    CHECK (padded (7, 2) == "07");
    CHECK (padded (123, 2) == "123");
    CHECK (padded (-7, 2) == "-07");
    CHECK_PROPERTY ("round trip",
                    []
                    {
                        const auto n = *rc::gen::inRange<std::int64_t> (-999'999'999'999, 999'999'999'999);
                        RC_ASSERT (parseWhole (padded (n, *rc::gen::inRange (0, 15))) == n);
                    });
}

TEST_CASE ("Pieces of text")
{
    CHECK (trimmed (" \ta b\r\n") == "a b");
    CHECK (trimmed ("  ").empty());
    CHECK (splitAt ("a,,b", ',') == std::vector<std::string_view>{ "a", "", "b" });
    CHECK (splitAt ("", ',') == std::vector<std::string_view>{ "" });
    // Pieces of a string that ends with its expression would be gone before they are looked at.
    STATIC_REQUIRE (trims<const std::string&>);
    STATIC_REQUIRE (trims<const char*>);
    STATIC_REQUIRE (splits<std::string_view>);
    STATIC_REQUIRE_FALSE (trims<std::string>);
    STATIC_REQUIRE_FALSE (splits<std::string>);
    STATIC_REQUIRE_FALSE (splits<const std::string>);
    CHECK (startsWith ("film:1", "film:"));
    CHECK_FALSE (startsWith ("fi", "film:"));
    CHECK (endsWith ("80ft/min", "ft/min"));
    CHECK_FALSE (endsWith ("min", "ft/min"));
    CHECK (lowerAscii ("DF \xc3\x86") == "df \xc3\x86");
}

TEST_CASE ("UTF-8 is told from other bytes (RFC 3629)")
{
    for (const char* text : { "", "Smedens d\xc3\xb8r", "\xe2\x80\x9cvoice\xe2\x80\x9d", "\xf0\x9f\x8e\xac", "\xc3\xa6",
                              "\xed\x9f\xbf", "\xf4\x8f\xbf\xbf" })
    {
        INFO (text);
        CHECK (isUtf8 (text));
    }
    for (const char* text : { "d\xf8r", "\x80", "\xc3", "\xe2\x80", "\xc0\xaf", "\xe0\x80\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80",
                              "\xff", "\xc3\x28" })
        CHECK_FALSE (isUtf8 (text));
}
