// LM-63 files, whole and broken. The samples are written from the standard's description (ANSI/IES
// LM-63-1995 and -2002); no maker's file stands here.

#include "read/photometric_file.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <string>

using namespace keyhour;
using namespace keyhour::read;

namespace {

/// A round spot: 1000 cd within 10 degrees of its axis, falling to nothing at 20.
const std::string spot =
    "IESNA:LM-63-2002\n"
    "[TEST] 7\n"
    "[TESTLAB] none: invented for a test\n"
    "[ISSUEDATE] 2026-02-01\n"
    "[MANUFAC] invented\n"
    "TILT=NONE\n"
    "1 -1 2.0 4 1 1 2 -0.3 -0.3 0\n"
    "0.5 1 240\n"
    "0 10 20 90\n"
    "0\n"
    "1000 1000 0 0\n";

std::string changed(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

PhotometricFile good(const std::string& text) {
    const auto read = read_photometric_text(text, "lamp.ies");
    if (!read) FAIL(read::text(read.error()));
    return *read;
}

std::string complaint(const std::string& text) {
    const auto read = read_photometric_text(text, "lamp.ies");
    if (read) return "read";
    const Problem& p = read.error().front();
    return std::to_string(p.line) + ":" + std::to_string(p.column) + ": " + p.message();
}

double candela(const PhotometricFile& f, double vertical, double horizontal) {
    return light::CandelaGrid{f.intensity.view()}.candela(Angle::degrees(vertical),
                                                          Angle::degrees(horizontal));
}

/// Numbers of a file with these horizontal angles; plane h holds 100 + h candela all over.
std::string with_planes(const std::vector<int>& planes) {
    std::string text = "IESNA:LM-63-1995\nTILT=NONE\n1 1000 1 2 " + std::to_string(planes.size()) +
                       " 1 2 0 0 0\n1 1 0\n0 90\n";
    for (const int h : planes)
        text += std::to_string(h) + " ";
    text += "\n";
    for (const int h : planes)
        text += std::to_string(100 + h) + " " + std::to_string(100 + h) + "\n";
    return text;
}

}  // namespace

TEST_CASE("a photometric file gives intensities, face and watts", "[read][lamp]") {
    const PhotometricFile f = good(spot);
    CHECK(f.edition == "LM-63-2002");
    CHECK(f.watts == 240);
    CHECK(f.face_diameter_m == Approx(0.3));
    CHECK(f.intensity.file == "lamp.ies");
    // Multiplier 2 and ballast factor 0.5; the reserved factor of 2002 does not count.
    CHECK(f.intensity.multiplier == Approx(1));
    CHECK(candela(f, 0, 0) == Approx(1000));
    CHECK(candela(f, 15, 77) == Approx(500));
    CHECK(candela(f, 20, 0) == 0);
    // Lumens of a cone of 10 degrees at 1000 cd and the fall to 20: between the two cones' own.
    const double lm = light::CandelaGrid{f.intensity.view()}.lumens();
    const auto cone = [](double deg) {
        return 2 * std::numbers::pi * 1000 * (1 - std::cos(deg * std::numbers::pi / 180));
    };
    CHECK(lm > cone(10));
    CHECK(lm < cone(20));
}

TEST_CASE("numbers may stand on lines of any length", "[read][lamp]") {
    std::string one_line = spot;
    const auto numbers = one_line.find("1 -1");
    for (std::size_t i = numbers; i < one_line.size(); ++i)
        if (one_line[i] == '\n') one_line[i] = ' ';
    std::string one_each = spot;
    for (std::size_t i = numbers; i < one_each.size(); ++i)
        if (one_each[i] == ' ') one_each[i] = '\n';
    std::string commas = spot;
    for (std::size_t i = numbers; i < commas.size(); ++i)
        if (commas[i] == ' ') commas[i] = ',';
    std::string crlf;
    for (const char c : spot)
        crlf += c == '\n' ? std::string{"\r\n"} : std::string{c};
    for (const std::string& text :
         {one_line, one_each, commas, crlf, "\xEF\xBB\xBF" + spot, spot + "\n\n  \n",
          changed(spot, "TILT=NONE", "  tilt = none  "), changed(spot, "1 -1 2.0", "+1 -1.0 2E0"),
          changed(spot, "IESNA:LM-63-2002\n", "IES:LM-63-2019\n")}) {
        const PhotometricFile f = good(text);
        CHECK(candela(f, 5, 0) == Approx(1000));
        CHECK(f.face_diameter_m == Approx(0.3));
    }
    // Without a first line it is the edition of 1986; then the second factor counts.
    const PhotometricFile old =
        good(changed(changed(spot, "IESNA:LM-63-2002\n", ""), "0.5 1 240", "0.5 0.8 240"));
    CHECK(old.edition.empty());
    CHECK(candela(old, 5, 0) == Approx(800));
    CHECK(candela(good(changed(spot, "0.5 1 240", "0.5 0.8 240")), 5, 0) == Approx(1000));
}

TEST_CASE("each symmetry of type C is read as the standard folds it", "[read][lamp]") {
    CHECK(candela(good(with_planes({0})), 30, 213) == Approx(100));
    const PhotometricFile quarter = good(with_planes({0, 45, 90}));
    for (const double h : {30.0, 150.0, 210.0, 330.0})
        CHECK(candela(quarter, 30, h) == Approx(130));
    const PhotometricFile half = good(with_planes({0, 90, 180}));
    CHECK(candela(half, 30, 120) == Approx(220));
    CHECK(candela(half, 30, 240) == Approx(220));
    const PhotometricFile whole = good(with_planes({0, 120, 240, 360}));
    CHECK(candela(whole, 30, 240) == Approx(340));
    CHECK(candela(whole, 30, 60) == Approx(160));
    // 90 to 270: mirrored in the plane through 90 and 270, so 60 is as 120 and 300 as 240.
    for (const auto& planes : {std::vector<int>{90, 180, 270}, {90, 120, 240, 270}}) {
        const PhotometricFile lateral = good(with_planes(planes));
        for (const auto& [h, as] : {std::pair{60.0, 120.0},
                                    {300.0, 240.0},
                                    {0.0, 180.0},
                                    {360.0, 180.0},
                                    {90.0, 90.0},
                                    {270.0, 270.0},
                                    {10.0, 170.0}}) {
            CAPTURE(h);
            CHECK(candela(lateral, 30, h) == Approx(100 + as));
        }
    }
}

TEST_CASE("the face of a lamp comes from its luminous opening", "[read][lamp]") {
    const auto face = [](const std::string& sizes) {
        return good(changed(spot, "2 -0.3 -0.3 0", sizes)).face_diameter_m;
    };
    CHECK(face("2 0 0 0") == 0);
    CHECK(face("1 -1 -1 0") == Approx(0.3048));
    CHECK(face("2 -0.4 0 0") == Approx(0.4));
    CHECK(face("2 0.6 0.3 0.1") == Approx(std::sqrt(4 * 0.6 * 0.3 / std::numbers::pi)));
    CHECK(face("2 1.2 0 0") == Approx(1.2));
    CHECK(face("1 2 2 0") == Approx(0.3048 * std::sqrt(16 / std::numbers::pi)));
}

namespace {

/// One change to the sound file, and what is said of it.
struct Broken {
    const char *from, *to;
    std::string says;
};
const std::vector<Broken> broken_files{
    {"TILT=NONE", "TILT=INCLUDE", "6:1: TILT=INCLUDE; accepted: TILT=NONE"},
    {"TILT=NONE", "TILT=other.tlt", "6:1: TILT=other.tlt"},
    {"TILT=NONE", "TILT", "6:1: TILT="},
    {"1 1 2 -0.3", "1 2 2 -0.3",
     "7:14: photometric type 2, type B; accepted: "
     "1, type C"},
    {"1 1 2 -0.3", "1 3 2 -0.3", "7:14: photometric type 3, type A"},
    {"1 1 2 -0.3", "1 9 2 -0.3", "7:14: photometric type 9, an unknown type"},
    {"4 1 1 2 -0.3", "4 1 1 3 -0.3", "7:16: units 3"},
    {"2.0 4 1", "2.0 5 1", "10:1: vertical angle 0 after 90"},
    {"2.0 4 1", "2.0 3 1", "9:6: vertical angles 0 to 20"},
    {"2.0 4 1", "2.0 4 2", "11:1: horizontal angle 2 of 2 is 1000"},
    {"2.0 4 1", "2.0 4000 4000", "10:1: vertical angle 0 after 90"},
    {"2.0 4 1", "2.0 4000000000 1",
     "7:10: the number of vertical angles is 4e+09; accepted: 2 to 4000"},
    {"2.0 4 1", "2.0 4 1e308", "7:12: the number of horizontal angles"},
    {"2.0 4 1", "2.0 -4 1", "7:10: the number of vertical angles is -4"},
    {"2.0 4 1", "2.0 4.5 1", "7:10: the number of vertical angles is 4.5"},
    {"2.0 4 1", "2.0 4 0", "7:12: the number of horizontal angles is 0"},
    {"2.0 4 1", "2.0 1 1", "7:10: the number of vertical angles is 1"},
    {"1 -1 2.0", "1 -1 two",
     "7:6: \"two\" where the candela multiplier should stand; accepted: a number"},
    {"1 -1 2.0", "1 -1 nan", "7:6: \"nan\" where the candela multiplier"},
    {"1 -1 2.0", "1 -1 inf", "7:6: \"inf\" where"},
    {"1 -1 2.0", "1 -1 1e999", "7:6: \"1e999\" where"},
    {"1 -1 2.0", "1 -1 0", "7:6: the candela multiplier is 0; accepted: above"},
    {"1 -1 2.0", "1 -1 -2", "7:6: the candela multiplier is -2"},
    {"1 -1 2.0", "1 -5 2.0", "7:3: the lumens of a lamp"},
    {"1 -1 2.0", "0 -1 2.0", "7:1: the number of lamps is 0"},
    {"0.5 1 240", "-0.5 1 240", "8:1: the ballast factor is -0.5"},
    {"0.5 1 240", "0.5 1 -240", "8:7: the input watts is -240"},
    {"0.5 1 240", "0.5 1 240W", "8:7: \"240W\" where the input watts"},
    {"0 10 20 90", "0 10 10 90", "9:6: vertical angle 10 after 10"},
    {"0 10 20 90", "0 20 10 90", "9:6: vertical angle 10 after 20"},
    {"0 10 20 90", "5 10 20 90", "9:9: vertical angles 5 to 90"},
    {"0 10 20 90", "0 10 20 80", "9:9: vertical angles 0 to 80"},
    {"0 10 20 90", "0 10 20 900", "9:9: vertical angle 4 of 4 is 900"},
    {"90\n0\n", "90\n45\n", "10:1: horizontal angles 45 to 45"},
    {"1000 1000 0 0", "1000 1000 0",
     "11:1: the file ends before candela value 4 of 4; is it cut off"},
    {"1000 1000 0 0", "1000 -1 0 0", "11:6: a candela value of -1"},
    {"1000 1000 0 0", "1000 NaN 0 0", "11:6: \"NaN\" where candela value 2"},
    {"1000 1000 0 0", "1000 0x10 0 0", "11:6: \"0x10\" where candela value 2"},
    {"1000 1000 0 0", "0 0 0 0", "11:7: all candela values are 0"},
    {"-0.3 -0.3", "-999 -0.3", "7:18: the luminous width is -999"},
    {"-0.3 -0.3", "\x1b[31m -0.3", "7:18: \"?[31m\" where the luminous width"},
};

}  // namespace

TEST_CASE("broken and hostile photometric files say where and why", "[read][lamp][hostile]") {
    CHECK(broken_files.size() >= 25);
    for (const Broken& broken : broken_files) {
        CAPTURE(broken.from, broken.to);
        CHECK_THAT(complaint(changed(spot, broken.from, broken.to)),
                   Catch::Matchers::StartsWith(broken.says));
    }
}

TEST_CASE("what is no photometric file, or not all of one, is told", "[read][lamp][hostile]") {
    const std::string counts = "1 -1 2.0 4 1 1 2 -0.3 -0.3 0";
    const std::vector<std::pair<std::string, std::string>> texts{
        {"", "0:0: the file is empty"},
        {"\n\n\n", "0:0: no line TILT=NONE"},
        {"IESNA:LM-63-2002\n[TEST] 1\n", "0:0: no line TILT=NONE"},
        {std::string(5000, '\0'), "0:0: no line TILT=NONE"},
        {spot + "17\n",
         "12:1: \"17\" after the last candela value; accepted: 4 vertical angles x 1"},
        {spot + "end\n", "12:1: \"end\" after the last candela value"},
        {spot.substr(0, spot.find("0 10")), "8:1: the file ends before vertical angle 1 of 4"},
        {spot.substr(0, spot.find("240")), "8:1: the file ends before the input watts"},
        {changed(spot, counts, counts.substr(0, 10)),
         "8:1: the number of horizontal angles is 0.5"},
        {spot + std::string(largest_photometric_bytes, ' '), "0:0: the file is too large"},
    };
    for (const auto& [text, says] : texts) {
        CAPTURE(text.substr(0, 200));
        CHECK_THAT(complaint(text), Catch::Matchers::StartsWith(says));
    }
}

TEST_CASE("no cut of a photometric file is read as a whole one", "[read][lamp][hostile]") {
    const std::size_t last = spot.rfind('0');
    for (std::size_t n = 0; n < last; ++n) {
        CAPTURE(n);
        CHECK_FALSE(read_photometric_text(spot.substr(0, n), "lamp.ies"));
    }
    // Any byte replaced by any of these: an answer or a complaint, never a fall.
    for (std::size_t n = 0; n < spot.size(); ++n)
        for (const char c : {'\0', '-', '9', '\n', 'e', '\xff'}) {
            std::string text = spot;
            text[n] = c;
            (void)read_photometric_text(text, "lamp.ies");
        }
}

TEST_CASE("a photometric file that is not there is a problem of its own", "[read][lamp]") {
    const auto missing = read_photometric_file("nowhere/lamp.ies");
    REQUIRE_FALSE(missing);
    CHECK(missing.error().front().file == "nowhere/lamp.ies");
    const auto folder = read_photometric_file(std::filesystem::temp_directory_path().string());
    REQUIRE_FALSE(folder);
    CHECK_THAT(folder.error().front().message(),
               Catch::Matchers::StartsWith("this is a folder; accepted: a photometric file"));
}
