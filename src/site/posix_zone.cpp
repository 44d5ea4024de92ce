// date's <date/ptz.h> does not compile as C++20 and accepts or refuses a few strings that it should
// not. So the string is checked here first, against the grammar of IEEE Std 1003.1-2017, Base
// Definitions, chapter 8.3 "TZ", with the signed hours of change of RFC 8536, section 3.3.1.
#include "posix_zone.hpp"

#include <date/ptz.h>

#include <algorithm>
#include <chrono>
#include <optional>

namespace keyhour::site {
namespace {

using std::chrono::hours;
using std::chrono::seconds;

// One side of the rule: ",M3.5.0/-1" is day "M3.5.0" and an hour of change that may be signed.
struct ChangeRule {
    std::string day;
    int at_s = 2 * 3600;
};

struct Fields {
    std::string standard_name, daylight_name;
    int standard_s = 0;  // east of Greenwich
    int daylight_s = 0;
    std::optional<ChangeRule> start, end;
};

class Reader {
public:
    Reader(const std::string& text, std::string& why) : text_{text}, why_{why} {}

    std::optional<Fields> read() {
        Fields f;
        if (!name(f.standard_name) || !offset(f.standard_s)) return std::nullopt;
        if (at_end()) return f;
        if (!name(f.daylight_name)) return std::nullopt;
        f.daylight_s = f.standard_s + 3600;
        if (!at_end() && peek() != ',' && !offset(f.daylight_s)) return std::nullopt;
        if (at_end()) {
            say("the rule that says when summer time starts and ends, such as "
                "\",M3.5.0,M10.5.0/3\"");
            return std::nullopt;
        }
        ChangeRule start, end;
        if (!rule(start) || !rule(end)) return std::nullopt;
        if (!at_end()) {
            say("the end of the string");
            return std::nullopt;
        }
        f.start = start;
        f.end = end;
        return f;
    }

private:
    bool at_end() const { return i_ == text_.size(); }
    char peek() const { return at_end() ? '\0' : text_[i_]; }
    static bool is_digit(char c) { return c >= '0' && c <= '9'; }
    static bool is_letter(char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); }

    bool say(const std::string& wanted) {
        why_ = "expected " + wanted + " at character " + std::to_string(i_ + 1) +
               (at_end() ? " (the string ends there)" : ", found \"" + text_.substr(i_, 12) + "\"");
        return false;
    }

    bool name(std::string& out) {
        const std::size_t begin = i_;
        if (peek() == '<') {
            ++i_;
            while (is_letter(peek()) || is_digit(peek()) || peek() == '+' || peek() == '-')
                ++i_;
            if (peek() != '>') return say("\">\" to close the name");
            ++i_;
        } else {
            while (is_letter(peek()))
                ++i_;
        }
        out = text_.substr(begin, i_ - begin);
        const std::size_t letters = out.size() - (out.empty() || out[0] != '<' ? 0 : 2);
        if (letters >= 3) return true;
        i_ = begin;
        return say("a name of three letters or more, or one in <...>");
    }

    bool number(int& out, int low, int high, std::size_t digits, const char* what) {
        const std::size_t begin = i_;
        int value = 0;
        while (is_digit(peek()) && i_ - begin < digits)
            value = 10 * value + (text_[i_++] - '0');
        if (i_ > begin && value >= low && value <= high && !is_digit(peek())) {
            out = value;
            return true;
        }
        i_ = begin;
        return say(std::string{what} + " " + std::to_string(low) + " to " + std::to_string(high));
    }

    bool clock(int& out, int highest_hour) {
        const bool negative = peek() == '-';
        if (peek() == '-' || peek() == '+') ++i_;
        int h = 0, m = 0, s = 0;
        if (!number(h, 0, highest_hour, 3, "hours")) return false;
        if (peek() == ':') {
            ++i_;
            if (!number(m, 0, 59, 2, "minutes")) return false;
            if (peek() == ':') {
                ++i_;
                if (!number(s, 0, 59, 2, "seconds")) return false;
            }
        }
        out = (negative ? -1 : 1) * (3600 * h + 60 * m + s);
        return true;
    }

    // The string counts west of Greenwich as positive.
    bool offset(int& east_s) {
        int west_s = 0;
        if (!clock(west_s, 24)) return false;
        east_s = -west_s;
        return true;
    }

    bool rule(ChangeRule& out) {
        if (peek() != ',') return say("\",\" and a day of change");
        ++i_;
        const std::size_t begin = i_;
        int month = 0, week = 0, weekday = 0, day = 0;
        if (peek() == 'M') {
            ++i_;
            if (!number(month, 1, 12, 2, "a month")) return false;
            if (peek() != '.') return say("\".\" and a week");
            ++i_;
            if (!number(week, 1, 5, 1, "a week")) return false;
            if (peek() != '.') return say("\".\" and a weekday");
            ++i_;
            if (!number(weekday, 0, 6, 1, "a weekday")) return false;
        } else if (peek() == 'J') {
            ++i_;
            if (!number(day, 1, 365, 3, "a day")) return false;
        } else if (!number(day, 0, 365, 3, "a day of change as Mm.w.d, Jn or n, with n from")) {
            return false;
        }
        out.day = text_.substr(begin, i_ - begin);
        if (peek() == '/') {
            ++i_;
            return clock(out.at_s, 167);
        }
        return true;
    }

    const std::string& text_;
    std::string& why_;
    std::size_t i_ = 0;
};

std::string clock_text(int s) {
    const int size = std::abs(s);
    return std::string{s < 0 ? "-" : ""} + std::to_string(size / 3600) + ':' +
           std::to_string(size / 60 % 60) + ':' + std::to_string(size % 60);
}

// An hour of change before midnight is one that ptz.h cannot read. Moving both offsets east by a
// shift, and both hours of change later by it, leaves every instant of change as it was; the shift
// is taken off the offset that comes out.
int needed_shift_s(const Fields& f) {
    if (!f.start) return 0;
    return std::max(0, -std::min(f.start->at_s, f.end->at_s));
}

class Rules final : public PosixZone {
public:
    Rules(const std::string& text, const Fields& f, int shift_s)
        : text_{text},
          shift_s_{shift_s},
          has_summer_time_{f.start.has_value()},
          zone_{ptz_text(f, shift_s)} {}

    Offset at(std::int64_t unix_s) const override {
        const auto info = zone_.get_info(date::sys_seconds{seconds{unix_s}});
        Offset out;
        out.east_s = static_cast<std::int32_t>(info.offset.count()) - shift_s_;
        // Of a rule without summer time ptz.h says that all of it is.
        out.daylight_saving = has_summer_time_ && info.save.count() != 0;
        out.abbreviation = info.abbrev;
        return out;
    }
    const std::string& text() const override { return text_; }

private:
    static std::string ptz_text(const Fields& f, int shift_s) {
        std::string text = f.standard_name + clock_text(-(f.standard_s + shift_s));
        if (!f.start) return text;
        text += f.daylight_name + clock_text(-(f.daylight_s + shift_s));
        text += ',' + f.start->day + '/' + clock_text(f.start->at_s + shift_s);
        return text + ',' + f.end->day + '/' + clock_text(f.end->at_s + shift_s);
    }

    std::string text_;
    int shift_s_;
    bool has_summer_time_;
    Posix::time_zone zone_;
};

}  // namespace

std::unique_ptr<PosixZone> PosixZone::read(const std::string& text, std::string& why) {
    const auto fields = Reader{text, why}.read();
    if (!fields) return nullptr;
    const int shift_s = needed_shift_s(*fields);
    if (fields->start &&
        (std::max(fields->start->at_s, fields->end->at_s) + shift_s >= 100 * 3600 ||
         shift_s > 72 * 3600)) {
        why = "hours of change below -72 or above 99 are not served";
        return nullptr;
    }
    try {
        return std::make_unique<Rules>(text, *fields, shift_s);
    } catch (const std::exception&) {
        why = "the rules contradict each other";  // checked above; a last resort
        return nullptr;
    }
}

}  // namespace keyhour::site
