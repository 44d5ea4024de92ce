#include "words/shown.hpp"

#include <catch2/catch.hpp>
#include <sstream>

#include "words/guarded_stream.hpp"

using namespace std::string_literals;
using keyhour::words::escaped;
using keyhour::words::GuardedStream;
using keyhour::words::shown;

TEST_CASE("what would steer a terminal is shown as an escape", "[words]") {
    CHECK(shown("press window") == "press window");
    CHECK(shown("a\x1b[2Jb") == "a\\u001b[2Jb");
    CHECK(shown("a\0b"s) == "a\\u0000b");
    CHECK(shown("a\nb\rc\td\x7f") == "a\\nb\\rc\\td\\u007f");
    CHECK(shown("\xc2\x9b"
                "31m") == "\\u009b31m");  // CSI as one character
    CHECK(shown("\x9b"
                "31m") == "\\x9b31m");  // and as one byte
    CHECK(shown("\xe2\x80\xaegnp") == "\\u202egnp");
    CHECK(shown("\xe2\x81\xa6x") == "\\u2066x");
    CHECK(shown("\xe2\x80\xa8") == "\\u2028");
    CHECK(shown("\xef\xbb\xbfx") == "\\ufeffx");
    CHECK(shown("\xed\xa0\x80") == "\\xed\\xa0\\x80");  // a lone surrogate
    CHECK(shown("\xc0\xaf") == "\\xc0\\xaf");           // "/" made longer than it is
}

TEST_CASE("letters of every script, accents and joined signs stay as they are", "[words]") {
    for (const std::string text : {"caf\xc3\xa9", "e\xcc\x81", "\xe7\xaa\x93",
                                   "\xf0\x9f\x91\xa9\xe2\x80\x8d\xf0\x9f\x8e\xa8"})
        CHECK(shown(text) == text);
}

TEST_CASE("a name from right to left turns nothing beside it", "[words]") {
    const std::string name =
        "\xd7\x97\xd7\x9c\xd7\x95\xd7\x9f 1";  // Hebrew for window, and a number
    const std::string once = shown(name);
    CHECK(once == "\xe2\x81\xa8" + name + "\xe2\x81\xa9");
    CHECK(shown("mark " + once + ", lit") == "mark " + once + ", lit");  // made safe twice
    CHECK(escaped(name) == name);
    // An isolate that is never closed would run on.
    CHECK(shown("\xe2\x81\xa8x") == "\\u2068x");
    CHECK(shown("x\xe2\x81\xa9") == "x\\u2069");
}

TEST_CASE("the gate lets lines through and nothing that steers, wherever a write ends", "[words]") {
    const std::string text = "first \x1b[31m\nsecond \xc2\x9b \xe2\x80\xae \xff \xf0\x9f\x8e\xa8\n";
    const std::string safe = "first \\u001b[31m\nsecond \\u009b \\u202e \\xff \xf0\x9f\x8e\xa8\n";
    for (const std::size_t piece : {1U, 2U, 3U, 100U}) {
        std::ostringstream behind;
        {
            GuardedStream out{behind};
            for (std::size_t at = 0; at < text.size(); at += piece)
                out << text.substr(at, piece) << std::flush;
        }
        CHECK(behind.str() == safe);
    }
    std::ostringstream behind;
    GuardedStream{behind} << "cut \xe2\x80";
    CHECK(behind.str() == "cut \\xe2\\x80");
}

TEST_CASE("in a sentence each stretch from right to left is set apart", "[words]") {
    using keyhour::words::with_turns_isolated;
    const std::string a = "\xd7\x97\xd7\x9c", b = "\xd7\x95\xd7\x9f";
    const std::string open = "\xe2\x81\xa8", shut = "\xe2\x81\xa9";
    CHECK(with_turns_isolated("mark A by press window") == "mark A by press window");
    CHECK(with_turns_isolated("mark " + a + " 2 " + b + ", 13:05, by " + b + " 1 ") ==
          "mark " + open + a + " 2 " + b + shut + ", 13:05, by " + open + b + shut + " 1 ");
    CHECK(with_turns_isolated("x " + open + a + shut) == "x " + open + a + shut);
}
