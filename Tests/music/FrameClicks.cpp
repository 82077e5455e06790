#include "Catch.h"

#include "music/FrameClick.h"

using namespace shutterbeat;
using music::FrameClick;
using time::Rational;

namespace
{
FrameClick click (const std::string& text)
{
    const auto read = music::parseClick (text);
    REQUIRE (read.ok());
    return *read;
}

// Handbook 4.2: beats a minute at 24 frames a second, a row a frame from 6, a column an eighth.
const std::vector<std::vector<std::string>> table{
    { "240.00", "235.10", "230.40", "225.88", "221.54", "217.36", "213.33", "209.45" },
    { "205.71", "202.11", "198.62", "195.25", "192.00", "188.85", "185.81", "182.86" },
    { "180.00", "177.23", "174.55", "171.94", "169.41", "166.96", "164.57", "162.25" },
    { "160.00", "157.81", "155.68", "153.60", "151.58", "149.61", "147.69", "145.82" },
    { "144.00", "142.22", "140.49", "138.80", "137.14", "135.53", "133.95", "132.41" },
    { "130.91", "129.44", "128.00", "126.59", "125.22", "123.87", "122.55", "121.26" },
    { "120.00", "118.76", "117.55", "116.36", "115.20", "114.06", "112.94", "111.84" },
    { "110.77", "109.71", "108.68", "107.66", "106.67", "105.69", "104.73", "103.78" },
    { "102.86", "101.95", "101.05", "100.17", "99.31", "98.46", "97.63", "96.81" },
    { "96.00", "95.21", "94.43", "93.66", "92.90", "92.16", "91.43", "90.71" },
    { "90.00", "89.30", "88.62", "87.94", "87.27", "86.62", "85.97", "85.33" },
    { "84.71", "84.09", "83.48", "82.88", "82.29", "81.70", "81.13", "80.56" },
    { "80.00", "79.45", "78.90", "78.37", "77.84", "77.32", "76.80", "76.29" },
    { "75.79", "75.29", "74.81", "74.32", "73.85", "73.38", "72.91", "72.45" },
    { "72.00", "71.55", "71.11", "70.67", "70.24", "69.82", "69.40", "68.98" },
    { "68.57", "68.17", "67.76", "67.37", "66.98", "66.59", "66.21", "65.83" },
    { "65.45", "65.08", "64.72", "64.36", "64.00", "63.65", "63.30", "62.95" },
    { "62.61", "62.27", "61.94", "61.60", "61.28", "60.95", "60.63", "60.31" },
    { "60.00", "59.69", "59.38", "59.08", "58.78", "58.48", "58.18", "57.89" },
    { "57.60", "57.31", "57.03", "56.75", "56.47", "56.20", "55.92", "55.65" },
    { "55.38", "55.12", "54.86", "54.60", "54.34", "54.08", "53.83", "53.58" },
    { "53.33", "53.09", "52.84", "52.60", "52.36", "52.13", "51.89", "51.66" },
    { "51.43", "51.20", "50.97", "50.75", "50.53", "50.31", "50.09", "49.87" },
    { "49.66", "49.44", "49.23", "49.02", "48.81", "48.61", "48.40", "48.20" },
    { "48.00", "47.80", "47.60", "47.41", "47.21", "47.02", "46.83", "46.64" },
    { "46.45", "46.27", "46.08", "45.90", "45.71", "45.53", "45.35", "45.18" },
    { "45.00", "44.82", "44.65", "44.48", "44.31", "44.14", "43.97", "43.80" },
    { "43.64", "43.47", "43.31", "43.15", "42.99", "42.83", "42.67", "42.51" },
    { "42.35", "42.20", "42.04", "41.89", "41.74", "41.59", "41.44", "41.29" },
    { "41.14", "41.00", "40.85", "40.71", "40.56", "40.42", "40.28", "40.14" },
    { "40.00", "39.86", "39.72", "39.59", "39.45", "39.32", "39.18", "39.05" },
};

// Handbook 4.3: click, beat, exact seconds, frame.
struct BookRow
{
    std::string click;
    int beat;
    std::string seconds, frame, feet;
};

const std::vector<BookRow> bookRows{
    { "24-0", 2, "1", "24", "1+08" },
    { "12-0", 25, "12", "288", "18+00" },
    { "10-4", 9, "7/2", "84", "5+04" },
    { "10-4", 17, "7", "168", "10+08" },
    { "12-2", 50, "2401/96", "2401/4", "37+08.25" },
    { "13-3", 33, "107/6", "428", "26+12" },
    { "8-0", 100, "33", "792", "49+08" },
    { "9-5", 41, "385/24", "385", "24+01" },
    { "14-6", 21, "295/24", "295", "18+07" },
    { "15-1", 65, "121/3", "968", "60+08" },
    { "16-0", 31, "20", "480", "30+00" },
    { "17-7", 12, "1573/192", "1573/8", "12+04.625" },
    { "18-2", 40, "949/32", "2847/4", "44+07.75" },
    { "19-5", 28, "1413/64", "4239/8", "33+01.875" },
    { "20-0", 73, "60", "1440", "90+00" },
    { "21-3", 19, "513/32", "1539/4", "24+00.75" },
    { "22-6", 51, "2275/48", "2275/2", "71+01.5" },
    { "23-1", 10, "555/64", "1665/8", "13+00.125" },
    { "11-0", 121, "55", "1320", "82+08" },
    { "11-7", 64, "1995/64", "5985/8", "46+12.125" },
    { "6-0", 201, "50", "1200", "75+00" },
    { "7-4", 97, "30", "720", "45+00" },
    { "30-0", 16, "75/4", "450", "28+02" },
    { "36-0", 11, "15", "360", "22+08" },
    { "25-5", 29, "1435/48", "1435/2", "44+13.5" },
    { "13-0", 100, "429/8", "1287", "80+07" },
};
} // namespace

TEST_CASE ("the 248 tempos of handbook 4.2")
{
    REQUIRE (table.size() == 31);
    int values = 0;
    for (std::size_t row = 0; row < table.size(); ++row)
        for (std::size_t eighth = 0; eighth < 8; ++eighth, ++values)
        {
            const FrameClick here{ static_cast<std::int64_t> (8 * (row + 6) + eighth) };
            CHECK (music::clickText (here) == std::to_string (row + 6) + "-" + std::to_string (eighth));
            const auto tempo = music::beatsPerMinute (here, Rational (24));
            CHECK (time::decimalText (tempo, 2) == table[row][eighth]);
            CHECK (music::nearestClick (tempo, Rational (24)) == here);
        }
    CHECK (values == 248);
}

TEST_CASE ("the 26 click-book rows of handbook 4.3")
{
    for (const auto& row : bookRows)
    {
        const auto seconds = Rational (row.beat - 1) * music::secondsPerBeat (click (row.click), Rational (24));
        CHECK (time::fractionText (seconds) == row.seconds);
        const auto frame = seconds * Rational (24);
        CHECK (time::fractionText (frame) == row.frame);
        // Feet and frames of 35 mm, 16 frames a foot, parts of a frame kept.
        const auto feet = time::floorOf (frame / Rational (16));
        const auto rest = frame - Rational (16 * feet);
        const auto whole = time::floorOf (rest);
        std::string text = std::to_string (feet) + "+" + (whole < 10 ? "0" : "") + std::to_string (whole);
        if (const auto part = rest - Rational (whole); part.sign() != 0)
        {
            auto decimals = time::decimalText (part, 3).substr (1);
            while (decimals.back() == '0')
                decimals.pop_back();
            text += decimals;
        }
        CHECK (text == row.feet);
    }
}

TEST_CASE ("clicks at 25, and the nearest click to round tempos")
{
    for (const auto& [text, tempo] : std::vector<std::pair<std::string, int>>{
             { "10", 150 }, { "12", 125 }, { "12-4", 120 }, { "15", 100 }, { "20", 75 }, { "25", 60 } })
        CHECK (music::beatsPerMinute (click (text), Rational (25)) == Rational (tempo));
    for (const auto& [tempo, text] : std::vector<std::pair<int, std::string>>{ { 100, "14-3" },
                                                                               { 108, "13-3" },
                                                                               { 112, "12-7" },
                                                                               { 126, "11-3" },
                                                                               { 132, "10-7" },
                                                                               { 138, "10-3" },
                                                                               { 176, "8-1" },
                                                                               { 200, "7-2" } })
        CHECK (music::clickText (music::nearestClick (Rational (tempo), Rational (24))) == text);
    for (const int tempo : { 60, 72, 80, 90, 96, 120, 144, 160 })
        CHECK (music::beatsPerMinute (music::nearestClick (Rational (tempo), Rational (24)), Rational (24)) == Rational (tempo));
}

TEST_CASE ("what is no click is refused")
{
    for (const char* text : { "", "12-8", "-1", "0-0", "12-", "a", "12-4-1", "1000", "12.5" })
        CHECK_FALSE (music::parseClick (text).ok());
}
