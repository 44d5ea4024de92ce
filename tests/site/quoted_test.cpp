#include "keyhour/site/quoted.hpp"

#include <catch2/catch.hpp>

using keyhour::site::quoted;

TEST_CASE("a text of the user's is shown in quotes, cut, and steers no terminal", "[site]") {
    CHECK(quoted("52.95N") == "\"52.95N\"");
    CHECK(quoted("") == "\"\"");
    CHECK(quoted("\x1b[31mred\n") == "\"\\u001b[31mred\\n\"");
    CHECK(quoted("abcdef", 3) == "\"abc...\"");
    CHECK(quoted("ab\xc2\xb0 north", 3) == "\"ab...\"");  // not half a degree sign
}
