#include "read/csv_reader.hpp"

#include <catch2/catch.hpp>
#include <sstream>

using keyhour::read::CsvReader;
using Fields = std::vector<std::string>;

// RFC 4180, section 2, rules 1 to 7.
TEST_CASE("records are read as RFC 4180 has them", "[read][published]") {
    std::istringstream in{"aaa,bbb,ccc\r\n\"aaa\",\"b \r\nbb\",\"c,c\"\r\n\"b\"\"bb\",,\nlast"};
    CsvReader csv{in};
    Fields f;
    REQUIRE(csv.next(f) == CsvReader::Outcome::record);
    CHECK(f == Fields{"aaa", "bbb", "ccc"});
    CHECK(csv.ended_in_crlf());
    REQUIRE(csv.next(f) == CsvReader::Outcome::record);
    CHECK(f == Fields{"aaa", "b \nbb", "c,c"});
    CHECK(csv.line() == 2);
    REQUIRE(csv.next(f) == CsvReader::Outcome::record);
    CHECK(f == Fields{"b\"bb", "", ""});
    CHECK(csv.line() == 4);
    CHECK_FALSE(csv.ended_in_crlf());
    REQUIRE(csv.next(f) == CsvReader::Outcome::record);
    CHECK(f == Fields{"last"});
    CHECK(csv.next(f) == CsvReader::Outcome::end);
}

TEST_CASE("damaged records say why, and reading goes on behind them", "[read]") {
    std::istringstream in{"a\"b,c\n\"a\"b,c\ngood,row\n\"open\nto the end"};
    CsvReader csv{in};
    Fields f;
    REQUIRE(csv.next(f) == CsvReader::Outcome::damaged);
    CHECK(csv.fault() == "a quote stands inside a field without quotes");
    REQUIRE(csv.next(f) == CsvReader::Outcome::damaged);
    CHECK(csv.fault() == "something stands after a closing quote");
    REQUIRE(csv.next(f) == CsvReader::Outcome::record);
    CHECK(f == Fields{"good", "row"});
    REQUIRE(csv.next(f) == CsvReader::Outcome::damaged);
    CHECK(csv.fault() == "a quote is opened and not closed");
    CHECK(csv.line() == 4);
}

TEST_CASE("an endless line is damaged, not kept", "[read]") {
    std::istringstream in{std::string(1 << 20, 'x') + "\nnext"};
    CsvReader csv{in};
    Fields f;
    REQUIRE(csv.next(f) == CsvReader::Outcome::damaged);
    CHECK(csv.fault() == "the record is longer than 64 kB");
    REQUIRE(csv.next(f) == CsvReader::Outcome::record);
    CHECK(f == Fields{"next"});
}
