// What is typed wrongly on the command line is answered with the option, what was found, and what
// is accepted.
#include <catch2/catch.hpp>

#include "run_program.hpp"

namespace {

const std::string kPlace = std::string{KEYHOUR_LOCATIONS} + "/tallow-lane.toml";

/// The first line on standard error; the run must be refused as wrong usage, with nothing answered.
std::string refusal(const std::vector<std::string>& arguments) {
    const Outcome o = run_program(arguments);
    INFO(o.err);
    CHECK(o.code == 2);
    CHECK(o.out.empty());
    CHECK(
        o.err.ends_with("run \"keyhour " + arguments.front() + " --help\" for what is accepted\n"));
    return o.err.substr(0, o.err.find('\n'));
}

std::string near_refusal(const std::string& typed) {
    return refusal({"key", kPlace, "--date", "2026-03-10", "--near", typed});
}

}  // namespace

TEST_CASE("a number typed wrongly is told with what to write", "[cli][options]") {
    const std::string near = "keyhour key: --near: ";
    CHECK(near_refusal("1,5") == near + "\"1,5\" is not a number; write a decimal point: 1.5");
    CHECK(near_refusal("1,500") == near +
                                       "\"1,500\" is not a number; write a decimal point: 1.500, "
                                       "or no separator: 1500");
    CHECK(near_refusal("0,500") ==
          near + "\"0,500\" is not a number; write a decimal point: 0.500");
    CHECK(near_refusal("1/3") == near + "\"1/3\" is not a number; write a decimal number: 0.333");
    CHECK(near_refusal("150 kg") ==
          near + "\"150 kg\" is not a number; accepted: a number, in metres");
    CHECK(near_refusal("") == near + "\"\" is not a number; accepted: a number, in metres");
    CHECK(near_refusal("1,5,2") ==
          near + "\"1,5,2\" is not a number; accepted: a number, in metres");
    CHECK(near_refusal("1e999") == near + "\"1e999\" is out of range");
    CHECK(refusal({"sun", kPlace, "--elevation", "\u22124.5"}) ==
          "keyhour sun: --elevation: \"\u22124.5\" is not a number; write a plain minus: -4.5");
    CHECK(refusal({"batch", kPlace, "--date", "2026-03-10", "--detour", "much"}) ==
          "keyhour batch: --detour: \"much\" is not a number; accepted: a number");
}

namespace {

/// Options that take a number.
const std::vector<std::vector<std::string>> taking{{"sun", "--elevation"},
                                                   {"sun", "--step"},
                                                   {"patch", "--step"},
                                                   {"patch", "--faces"},
                                                   {"patch", "--within"},
                                                   {"key", "--coverage"},
                                                   {"key", "--near"},
                                                   {"key", "--lock"},
                                                   {"key", "--iso"},
                                                   {"key", "--fps"},
                                                   {"key", "--shutter"},
                                                   {"key", "--tolerance"},
                                                   {"key", "--meter-constant"},
                                                   {"key", "--members"},
                                                   {"key", "--seed"},
                                                   {"lock", "--minutes"},
                                                   {"lamp", "--key-angle"},
                                                   {"lamp", "--coverage"},
                                                   {"lamp", "--alike"},
                                                   {"lamp", "--hold"},
                                                   {"lamp", "--ratio"},
                                                   {"exterior", "--setup"},
                                                   {"exterior", "--shot"},
                                                   {"exterior", "--person"},
                                                   {"exterior", "--stand"},
                                                   {"exterior", "--floor-lx"},
                                                   {"batch", "--coverage"},
                                                   {"batch", "--near"},
                                                   {"batch", "--min-hold"},
                                                   {"batch", "--min-sure"},
                                                   {"batch", "--min-level-lx"},
                                                   {"batch", "--best"},
                                                   {"batch", "--speed-kmh"},
                                                   {"batch", "--detour"},
                                                   {"batch", "--setup"},
                                                   {"batch", "--threads"},
                                                   {"sheet", "--width"},
                                                   {"bearing", "--clock-within"},
                                                   {"check", "--year"}};

}  // namespace

TEST_CASE("nan, inf and hexadecimal are no numbers, for any option", "[cli][options]") {
    for (const auto& option : taking)
        for (const char* typed :
             {"nan", "inf", "-inf", "NAN(1)", "0x10", "0x1p4", " 8", "8 ", "--8"})
            CHECK(refusal({option[0], kPlace, option[1] + '=' + typed})
                      .starts_with("keyhour " + option[0] + ": " + option[1] + ": \"" + typed +
                                   "\" is not a number"));
}

TEST_CASE("a whole number typed wrongly is told with what to write", "[cli][options]") {
    const auto step = [](const std::string& typed) {
        return refusal({"patch", kPlace, "--date", "2026-03-10", "--step", typed});
    };
    const std::string said = "keyhour patch: --step: ";
    CHECK(step("2.5") == said + "\"2.5\" is not a whole number; accepted: whole minutes");
    CHECK(step("2,5") == said + "\"2,5\" is not a whole number; accepted: whole minutes");
    CHECK(step("30.0") == said + "\"30.0\": write 30");
    CHECK(step("3e1") == said + "\"3e1\": write 30");
    CHECK(step("half") == said + "\"half\" is not a number; accepted: a number, in minutes");
    CHECK(step("99999999999") ==
          said + "\"99999999999\" is out of range; accepted: -2147483648 to 2147483647");
    CHECK(step("99999999999999999999") ==
          said + "\"99999999999999999999\" is out of range; accepted: -2147483648 to 2147483647");
    const auto key = [](const char* option, const char* typed) {
        return refusal({"key", kPlace, option, typed});
    };
    CHECK(key("--members", "7") ==
          "keyhour key: --members: \"7\" is out of range; accepted: 8 to 65536");
    CHECK(key("--members", "65537") ==
          "keyhour key: --members: \"65537\" is out of range; accepted: 8 to 65536");
    CHECK(key("--seed", "-1") ==
          "keyhour key: --seed: \"-1\" is out of range; accepted: 0 to 18446744073709551615");
    CHECK(key("--seed", "1.5") ==
          "keyhour key: --seed: \"1.5\" is not a whole number; accepted: a whole number");
    CHECK(refusal({"check", kPlace, "--year", "17"}) ==
          "keyhour check: --year: \"17\" is out of range; accepted: 1801 to 2198");
}

TEST_CASE("zeros before a number do not make it octal", "[cli][options]") {
    const auto rows = [](const char* step) {
        const Outcome o = run_program({"sun", kPlace, "--date", "2026-03-10", "--step", step});
        CHECK(o.code == 0);
        return o.out;
    };
    CHECK(rows("060") == rows("60"));
    CHECK(rows("+60") == rows("60"));
}

TEST_CASE("an option that is alone, twice or beside its opposite says so", "[cli][options]") {
    CHECK(refusal({"sun", kPlace, "--step"}) ==
          "keyhour sun: --step: its value is missing: MIN, minutes between rows (default: 60)");
    CHECK(refusal({"sun", kPlace, "--step", "5", "--step", "6"}) ==
          "keyhour sun: --step is given more than once");
    CHECK(refusal({"sun", kPlace, "--date", "2026-03-10", "--date", "2026-03-11"}) ==
          "keyhour sun: --date is given more than once");
    CHECK(refusal({"sun", kPlace, "--step", "5", "--time", "10:00"}) ==
          "keyhour sun: give --time or --step, not both");
    CHECK(refusal({"lamp"}) ==
          "keyhour lamp: location is missing: location file (TOML) with a [[lamp]]");
    CHECK(refusal({"sun", kPlace, "--json=maybe"}) ==
          "keyhour sun: --json: \"maybe\" is neither true nor false; it takes no value");
}
