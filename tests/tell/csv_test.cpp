#include "tell/csv.hpp"

#include <catch2/catch.hpp>

using keyhour::tell::csv_field;

TEST_CASE("fields are quoted where they must be", "[tell]") {
    CHECK(csv_field("plain text") == "plain text");
    CHECK(csv_field("a,b") == "\"a,b\"");
    CHECK(csv_field("say \"so\"") == "\"say \"\"so\"\"\"");
    CHECK(csv_field("two\nlines") == "\"two\nlines\"");
}

TEST_CASE("a cell that a spreadsheet would run is made text", "[tell]") {
    using keyhour::tell::csv_text;
    CHECK(csv_text("=1+1") == "'=1+1");
    CHECK(csv_text("+44") == "'+44");
    CHECK(csv_text("-A1") == "'-A1");
    CHECK(csv_text("@SUM(A1)") == "'@SUM(A1)");
    CHECK(csv_text("\tx") == "\\tx");  // escaped: it is not run either
    CHECK(csv_text("\rx") == "\\rx");
    CHECK(csv_text("=a,\"b\"") == "\"'=a,\"\"b\"\"\"");
    CHECK(csv_text("press = shop") == "press = shop");
    CHECK(csv_text("").empty());
}
