#include "words/decimal.hpp"

#include <catch2/catch.hpp>

using keyhour::words::Notation;
using keyhour::words::read_decimal;

namespace {

/// How many characters were read; -1 where it begins with no number, -2 where that is too large or
/// small.
long read(std::string_view text, double& value, Notation notation = Notation::any) {
    const auto [end, fault] = read_decimal(text, value, notation);
    if (fault == std::errc::invalid_argument) return -1;
    if (fault == std::errc::result_out_of_range) return -2;
    return end - text.data();
}

}  // namespace

TEST_CASE("a decimal number is read as far as it goes", "[words]") {
    double value = 0;
    CHECK(read("12.5 m", value) == 4);
    CHECK(value == 12.5);
    CHECK(read("-.5", value) == 3);
    CHECK(value == -0.5);
    CHECK(read("3.", value) == 2);
    CHECK(read("1e3x", value) == 3);
    CHECK(value == 1000);
    CHECK(read("1e3", value, Notation::without_exponent) == 1);
    CHECK(value == 1);
    CHECK(read("2e", value) == 1);
    CHECK(read("0.1", value) == 3);
    CHECK(value == 0.1);
}

TEST_CASE("no blank, plus sign or word is a number, nor what no double holds", "[words]") {
    double value = 7;
    for (const char* text : {"", " 1", "+1", "-", ".", "m", "e5", "-x"})
        CHECK(read(text, value) == -1);
    CHECK(read("1e999", value) == -2);
    CHECK(read("1e-999", value) == -2);
    CHECK(value == 7);
    CHECK(read("0e-999", value) == 6);
    CHECK(value == 0);
}
