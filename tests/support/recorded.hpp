#pragma once
/// @file
/// Whole answers, kept as text beside the tests: every figure of a struct, with those that no other
/// test looks at. What they must be, the tests against published figures, closed forms and brute
/// force say; a record says that nothing has moved since. `KEYHOUR_RECORD=1
/// build/test/tests/FOLDER_tests "[recorded]"` writes the records anew; then `git diff` shows what
/// moved, and the change's message says why it may.

#include <date/date.h>
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <optional>
#include <span>
#include <sstream>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "keyhour/site/dates.hpp"
#include "keyhour/sun/angle.hpp"
#include "keyhour/sun/instant.hpp"
#include "support/fields.hpp"

namespace keyhour::test {

/// A value in words, a blank between two: numbers with nine digits, instants to the millisecond,
/// angles in degrees; [ ] round a list, { } round a struct, - for nothing.
class Words {
public:
    template <class T>
    void add(const T& value) {
        using std::string_view;
        if constexpr (std::is_same_v<T, bool>) {
            word(value ? "yes" : "no");
        } else if constexpr (std::is_enum_v<T>) {
            word(fmt::format("#{}", static_cast<long>(value)));
        } else if constexpr (std::is_integral_v<T>) {
            word(fmt::format("{}", value));
        } else if constexpr (std::is_floating_point_v<T>) {
            word(fmt::format("{:.9g}", value == 0 ? 0.0 : value));
        } else if constexpr (std::is_convertible_v<const T&, string_view>) {
            quoted(value);
        } else if constexpr (std::is_pointer_v<T>) {
            word(value ? "pointer" : "-");
        } else {
            parts(value);
        }
    }
    [[nodiscard]] const std::string& text() const { return text_; }

private:
    void word(std::string_view w) {
        if (!text_.empty()) text_ += ' ';
        text_ += w;
    }
    void quoted(std::string_view s) {
        std::string w = "'";
        for (const char c : s)
            w += c == ' ' ? '_' : c == '\n' ? '|' : c;
        word(w + "'");
    }
    void parts(Instant t) {
        const std::chrono::milliseconds ms{std::llround(t.unix_s() * 1000)};
        word(std::abs(t.unix_s()) < 1e11
                 ? date::format("%FT%TZ", date::sys_time<std::chrono::milliseconds>{ms})
                 : "never");
    }
    void parts(Angle a) { word(fmt::format("{:.9g}", a.in_degrees())); }
    void parts(site::LocalDate d) { word(date::format("%F", d)); }
    template <class Rep, class Period>
    void parts(std::chrono::duration<Rep, Period> d) {
        add(Seconds{d}.count());
    }
    template <class T>
    void parts(const std::optional<T>& v) {
        v ? add(*v) : word("-");
    }
    template <class A, class B>
    void parts(const std::pair<A, B>& v) {
        word("{");
        add(v.first);
        add(v.second);
        word("}");
    }
    template <class... T>
    void parts(const std::variant<T...>& v) {
        word(fmt::format("#{}", v.index()));
        std::visit([this](const auto& one) { this->add(one); }, v);
    }
    void parts(std::monostate) { word("-"); }
    template <class T>
    void parts(const T& value) {
        if constexpr (requires {
                          value.begin();
                          value.end();
                      }) {
            word("[");
            for (const auto& one : value)
                add(one);
            word("]");
        } else {
            static_assert(std::is_aggregate_v<T>, "say in Words how it is written");
            word("{");
            for_each_field(value, [this](const auto& member) { this->add(member); });
            word("}");
        }
    }

    std::string text_;
};

/// A file of a folder `recorded`, held line by line to what is found now: a number may differ by a
/// millionth of itself or by a ten-millionth, an instant by 10 ms, as compilers may round; nothing
/// else.
class Record {
public:
    /// @param name  of the file within tests, without its ending: study/recorded/keys
    explicit Record(std::string name) : path_{KEYHOUR_TEST_DATA "/" + std::move(name) + ".txt"} {}

    /// One line: a label without blanks, and the value.
    template <class T>
    void add(std::string_view label, const T& value) {
        Words words;
        words.add(value);
        lines_.push_back(fmt::format("{} {}", label, words.text()));
    }

    /// To be called once, at the end.
    void check() const {
        if (std::getenv("KEYHOUR_RECORD") != nullptr) {
            std::ofstream file{path_};
            for (const auto& line : lines_)
                file << line << '\n';
            REQUIRE(file.flush());
            return;
        }
        std::ifstream file{path_};
        INFO("recorded in " << path_);
        REQUIRE(file);
        std::size_t n = 0;
        for (std::string line; std::getline(file, line); ++n) {
            REQUIRE(n < lines_.size());
            if (line != lines_[n]) hold(line, lines_[n]);
        }
        CHECK(n == lines_.size());
    }

private:
    static void hold(const std::string& recorded, const std::string& found) {
        std::istringstream a{recorded}, b{found};
        std::string was, is;
        INFO("line:     " << recorded.substr(0, recorded.find(' ')));
        for (int n = 0; a >> was; ++n) {
            if (!(b >> is)) is.clear();
            INFO("word " << n << " was " << was << ", is " << is);
            REQUIRE(are_alike(was, is));
        }
        REQUIRE_FALSE(b >> is);
    }
    static bool are_alike(const std::string& a, const std::string& b) {
        if (a == b) return true;
        const auto x = number(a), y = number(b);
        if (x && y) return std::abs(*x - *y) <= 1e-7 + 1e-6 * std::abs(*x);
        const auto s = instant_s(a), t = instant_s(b);
        return s && t && std::abs(*s - *t) <= 0.01;
    }
    static std::optional<double> number(const std::string& word) {
        char* end = nullptr;
        const double value = std::strtod(word.c_str(), &end);
        if (end != word.c_str() + word.size()) return std::nullopt;
        return value;
    }
    static std::optional<double> instant_s(const std::string& word) {
        std::istringstream in{word};
        date::sys_time<std::chrono::milliseconds> t;
        in >> date::parse("%FT%TZ", t);
        if (!in) return std::nullopt;
        return std::chrono::duration<double>{t.time_since_epoch()}.count();
    }

    std::string path_;
    std::vector<std::string> lines_;
};

}  // namespace keyhour::test
