#include "Catch.h"

#include "exchange/PlainText.h"
#include "time/Text.h"

using namespace shutterbeat::exchange;

TEST_CASE ("text on one line has no line breaks of any kind")
{
    CHECK (oneLine ("a\r\nb") == "a b");
    CHECK (oneLine ("a\t\n\vb\n") == "a b");
    CHECK (oneLine ("\na\xC2\x85"
                    "b\xE2\x80\xA8"
                    "c\xE2\x80\xA9")
           == "a b c");
    CHECK (oneLine ("Kø å … “x”") == "Kø å … “x”");
    CHECK (oneLine ("Å") == "Å");
}

TEST_CASE ("plain ASCII keeps what it can")
{
    CHECK (asciiOnly ("Køkkenet") == "Kokkenet");
    CHECK (asciiOnly ("“Stå!”") == "\"Sta!\"");
    CHECK (asciiOnly ("Čapek, Łódź") == "Capek, Lodz");
    CHECK (asciiOnly ("Ærø – ½ …") == "AEro - 1/2 ...");
    CHECK (asciiOnly ("a\xCC\x8A") == "a");
    CHECK (asciiOnly ("日") == "?");
    CHECK (asciiOnly ("Žižek ĳ ſ ŋ") == "Zizek ij s n");
}

TEST_CASE ("bytes of unknown encoding never fail")
{
    CHECK (fromUtf8OrLatin1 ("\xA9 2026") == "© 2026");
    CHECK (fromUtf8OrLatin1 ("D\xF8r") == "Dør");
    CHECK (fromUtf8OrLatin1 ("Dør") == "Dør");
    CHECK_PROPERTY ([] (const std::string& bytes) { return shutterbeat::time::isUtf8 (fromUtf8OrLatin1 (bytes)); });
    CHECK_PROPERTY (
        [] (const std::string& bytes)
        {
            const auto plain = asciiOnly (fromUtf8OrLatin1 (bytes));
            return std::all_of (plain.begin(), plain.end(), [] (char c) { return (c & 0x80) == 0; });
        });
    CHECK (lettersIn ("Stå!") == 4);
}
