#include "photometric_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "file/file_contents.hpp"
#include "words/decimal.hpp"

namespace keyhour::read {
namespace {

const char* const a_photometric_file =
    "accepted: a photometric file as in ANSI/IES LM-63, TILT=NONE, type C";
constexpr double metres_a_foot = 0.3048;
/// A grid of tenths of a degree both ways would have more; nobody measures one.
constexpr double most_angles = 4000;
constexpr double largest_face_m = 100;

struct Word {
    std::string_view text;
    int line = 0, column = 0;
};

std::string_view without_blanks(std::string_view line) {
    const auto first = line.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return line.substr(first, line.find_last_not_of(" \t\r") - first + 1);
}

std::string upper(std::string_view text) {
    std::string out{text};
    for (char& c : out)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return out;
}

/// Shown in a complaint: short, and without what a terminal would act upon.
std::string shown(std::string_view text) {
    std::string out;
    for (const char c : text.substr(0, 40))
        out += c < ' ' || c > '~' ? '?' : c;
    return text.size() > 40 ? out + "..." : out;
}

class PhotometricReader {
public:
    PhotometricReader(std::string_view text, const std::string& name) : name_{name} {
        if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
        for (std::size_t at = 0; at < text.size();) {
            // Lines end in LF, CR LF or, from the oldest machines, CR.
            const std::size_t end = std::min(text.find_first_of("\r\n", at), text.size());
            lines_.push_back(text.substr(at, end - at));
            const bool both = end + 1 < text.size() && text[end] == '\r' && text[end + 1] == '\n';
            at = end + (both ? 2 : 1);
        }
    }

    Read<PhotometricFile> read() {
        read_all();
        if (problem_) return tl::unexpected{std::vector{*problem_}};
        return std::move(out_);
    }

private:
    void read_all() {
        if (!find_tilt()) return;
        if (!read_head()) return;
        site::MeasuredIntensity& m = out_.intensity;
        if (!angles("vertical", vertical_count_, m.vertical_deg) || !check_vertical()) return;
        if (!angles("horizontal", horizontal_count_, m.horizontal_deg) || !check_horizontal())
            return;
        if (!read_candela()) return;
        if (const auto word = next())
            return complain(*word,
                            fmt::format("\"{}\" after the last candela value", shown(word->text)),
                            fmt::format("accepted: {} vertical angles x {} horizontal angles = {} "
                                        "values, as the file's counts say",
                                        vertical_count_, horizontal_count_,
                                        vertical_count_ * horizontal_count_));
        whole_turn();
    }

    void complain(const Word& at, std::string found, std::string accepted) {
        if (problem_) return;
        const auto index = static_cast<std::size_t>(at.line) - 1;
        const std::string source =
            at.line > 0 && index < lines_.size() ? shown_line(lines_[index]) : std::string{};
        problem_ =
            Problem{name_, at.line, at.column, std::move(found), std::move(accepted), source};
    }
    static std::string shown_line(std::string_view line) {
        constexpr std::size_t most = 1000;
        std::string out;
        for (const char c : line.substr(0, most))
            out += c < ' ' || c > '~' ? '?' : c;
        return out;
    }

    /// The edition, the keyword lines, and TILT=.
    bool find_tilt() {
        for (; line_ < lines_.size(); ++line_) {
            const std::string_view line = without_blanks(lines_[line_]);
            const std::string big = upper(line);
            const Word at{line, static_cast<int>(line_) + 1, 1};
            if (line_ == 0 && (big.starts_with("IES"))) {
                out_.edition = edition_of(big);
                continue;
            }
            if (!big.starts_with("TILT")) continue;
            const std::size_t equals = big.find('=');
            const std::string_view tilt = equals == std::string::npos
                                              ? std::string_view{}
                                              : without_blanks(line.substr(equals + 1));
            if (upper(tilt) == "NONE") {
                ++line_;
                return true;
            }
            complain(at, fmt::format("TILT={}", shown(tilt)),
                     "accepted: TILT=NONE; a lamp whose light depends on its tilt is not read");
            return false;
        }
        complain({{}, 0, 0}, lines_.empty() ? "the file is empty" : "no line TILT=NONE",
                 a_photometric_file);
        return false;
    }

    /// "IESNA:LM-63-2002" -> "LM-63-2002"; "IESNA91" -> "1991".
    static std::string edition_of(const std::string& line) {
        if (const std::size_t at = line.find("LM-63"); at != std::string::npos)
            return shown(line.substr(at));
        return line.starts_with("IESNA91") ? "LM-63-1991" : shown(line);
    }

    /// The next number's text; blanks, commas and line ends stand between.
    std::optional<Word> next() {
        for (; line_ < lines_.size(); ++line_, at_ = 0) {
            const std::string_view line = lines_[line_];
            const std::size_t first = line.find_first_not_of(" \t,\f\v", at_);
            if (first == std::string_view::npos) continue;
            if (line[first] == '\x1a') break;  // the end of a file, in old systems
            const std::size_t end = std::min(line.find_first_of(" \t,\f\v", first), line.size());
            at_ = end;
            return Word{line.substr(first, end - first), static_cast<int>(line_) + 1,
                        static_cast<int>(first) + 1};
        }
        return std::nullopt;
    }

    std::optional<double> number(const std::string& what) {
        const auto word = next();
        if (!word) {
            const int last = static_cast<int>(lines_.size());
            complain({{}, std::max(last, 1), 1}, fmt::format("the file ends before {}", what),
                     "is it cut off, or do its counts say too much?");
            return std::nullopt;
        }
        word_ = *word;
        std::string_view text = word->text;
        if (text.starts_with('+')) text.remove_prefix(1);
        double value = 0;
        const auto [end, fault] = words::read_decimal(text, value);
        if (fault != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) {
            complain(*word, fmt::format("\"{}\" where {} should stand", shown(word->text), what),
                     "accepted: a number");
            return std::nullopt;
        }
        return value;
    }

    std::optional<double> number(const std::string& what, double least, double most) {
        const auto value = number(what);
        if (!value) return value;
        if (*value >= least && *value <= most) return value;
        complain(word_, fmt::format("{} is {:g}", what, *value),
                 fmt::format("accepted: {:g} to {:g}", least, most));
        return std::nullopt;
    }

    std::optional<std::size_t> count(const std::string& what, double least, double most) {
        const auto value = number(what, least, most);
        if (!value) return std::nullopt;
        if (*value == std::floor(*value)) return static_cast<std::size_t>(*value);
        complain(word_, fmt::format("{} is {:g}", what, *value), "accepted: a whole number");
        return std::nullopt;
    }

    /// The thirteen numbers between TILT and the angles.
    bool read_head() {
        constexpr double any = 1e9;
        if (!count("the number of lamps", 1, 1000)) return false;
        const auto lumens = number("the lumens of a lamp", -1, any);
        if (!lumens) return false;
        if (*lumens < 0 && *lumens != -1) {
            complain(word_, fmt::format("the lumens of a lamp are {:g}", *lumens),
                     "accepted: 0 or more, or -1 for absolute photometry");
            return false;
        }
        const auto multiplier = positive("the candela multiplier");
        if (!multiplier) return false;
        const auto rows = count("the number of vertical angles", 2, most_angles);
        if (!rows) return false;
        const auto planes = count("the number of horizontal angles", 1, most_angles);
        if (!planes) return false;
        vertical_count_ = *rows;
        horizontal_count_ = *planes;
        if (!goniometer() || !face()) return false;
        const auto ballast = positive("the ballast factor");
        if (!ballast) return false;
        // Before 2002 the ballast-lamp factor, then one in reserve; in 2019 it tells how the file
        // was made (1.0...), which says nothing of the light.
        const auto second = positive("the factor after it");
        if (!second) return false;
        const bool counts = !out_.edition.starts_with("LM-63-2");
        const auto watts = number("the input watts", 0, any);
        if (!watts) return false;
        out_.watts = *watts;
        out_.intensity.multiplier = *multiplier * *ballast * (counts ? *second : 1);
        return true;
    }

    std::optional<double> positive(const std::string& what) {
        const auto value = number(what, 0, 1e6);
        if (!value || *value > 0) return value;
        complain(word_, fmt::format("{} is {:g}", what, *value), "accepted: above 0");
        return std::nullopt;
    }

    bool goniometer() {
        const auto type = number("the photometric type");
        if (!type) return false;
        if (*type == 1) return true;
        const char* name = *type == 2 ? "type B" : *type == 3 ? "type A" : "an unknown type";
        complain(word_, fmt::format("photometric type {:g}, {}", *type, name),
                 "accepted: 1, type C; ask the maker for a type C file");
        return false;
    }

    /// Units, then width, length and height of what shines; negative where it is round.
    bool face() {
        const auto units = number("the units");
        if (!units) return false;
        if (*units != 1 && *units != 2) {
            complain(word_, fmt::format("units {:g}", *units),
                     "accepted: 1 for feet, 2 for metres");
            return false;
        }
        const double metres = *units == 1 ? metres_a_foot : 1;
        double size[3] = {};
        const char* const names[3] = {"the luminous width", "the luminous length",
                                      "the luminous height"};
        for (int i = 0; i < 3; ++i) {
            const auto value = number(names[i], -largest_face_m / metres, largest_face_m / metres);
            if (!value) return false;
            size[i] = *value * metres;
        }
        const double width = std::abs(size[0]), length = std::abs(size[1]);
        const bool round = size[0] < 0 || size[1] < 0;
        if (width > 0 && length > 0)  // of a circle of the same area
            out_.face_diameter_m =
                std::sqrt(width * length) * (round ? 1 : 2 / std::sqrt(std::numbers::pi));
        else
            out_.face_diameter_m = std::max(width, length);
        return true;
    }

    bool angles(const char* which, std::size_t wanted, std::vector<double>& into) {
        // Room is taken as numbers come: a count may lie.
        for (std::size_t i = 0; i < wanted; ++i) {
            const auto value =
                number(fmt::format("{} angle {} of {}", which, i + 1, wanted), -360, 360);
            if (!value) return false;
            if (!into.empty() && *value <= into.back()) {
                complain(word_, fmt::format("{} angle {:g} after {:g}", which, *value, into.back()),
                         "accepted: ascending angles; are there as many as the count says?");
                return false;
            }
            into.push_back(*value);
        }
        return true;
    }

    bool check_vertical() {
        const auto& v = out_.intensity.vertical_deg;
        if ((v.front() == 0 || v.front() == 90) && (v.back() == 90 || v.back() == 180)) return true;
        complain(word_, fmt::format("vertical angles {:g} to {:g}", v.front(), v.back()),
                 "accepted for type C: from 0 or 90 to 90 or 180; are there as many as the count "
                 "says?");
        return false;
    }

    bool check_horizontal() {
        const auto& h = out_.intensity.horizontal_deg;
        const double last = h.back();
        if (h.front() == 0 && (last == 0 || last == 90 || last == 180 || last == 360)) return true;
        if (h.front() == 90 && last == 270) return true;
        complain(word_, fmt::format("horizontal angles {:g} to {:g}", h.front(), last),
                 "accepted for type C: 0 alone, 0 to 90, 0 to 180, 0 to 360, or 90 to 270");
        return false;
    }

    bool read_candela() {
        auto& candela = out_.intensity.candela;
        const std::size_t wanted = vertical_count_ * horizontal_count_;
        bool any = false;
        for (std::size_t i = 0; i < wanted; ++i) {
            const auto value = number(fmt::format("candela value {} of {}", i + 1, wanted));
            if (!value) return false;
            if (*value < 0 || *value > 1e12) {
                complain(word_, fmt::format("a candela value of {:g}", *value),
                         "accepted: 0 or more");
                return false;
            }
            any = any || *value > 0;
            candela.push_back(*value);
        }
        if (!any) complain(word_, "all candela values are 0", "accepted: a lamp that shines");
        return any;
    }

    /// A file from 90 to 270 shows one half; the other is its mirror image in the plane through 90
    /// and 270.
    void whole_turn() {
        site::MeasuredIntensity& m = out_.intensity;
        if (m.horizontal_deg.front() != 90) return;
        const std::vector<double> given = m.horizontal_deg;
        std::vector<double> turn{0};
        for (auto h = given.rbegin(); h != given.rend(); ++h)
            if (*h < 180 && 180 - *h > 0) turn.push_back(180 - *h);
        for (const double h : given)
            if (h > turn.back()) turn.push_back(h);
        for (auto h = given.rbegin(); h != given.rend(); ++h)
            if (540 - *h > turn.back() && 540 - *h < 360) turn.push_back(540 - *h);
        turn.push_back(360);
        std::vector<double> candela;
        for (const double h : turn) {
            const double of = h < 90 ? 180 - h : h > 270 ? 540 - h : h;
            const auto above = std::lower_bound(given.begin(), given.end(), of);
            const auto high = static_cast<std::size_t>(above - given.begin());
            const std::size_t low = high == 0 || given[high] == of ? high : high - 1;
            const double along = low == high ? 0 : (of - given[low]) / (given[high] - given[low]);
            for (std::size_t v = 0; v < vertical_count_; ++v)
                candela.push_back(std::lerp(m.candela[low * vertical_count_ + v],
                                            m.candela[high * vertical_count_ + v], along));
        }
        m.horizontal_deg = std::move(turn);
        m.candela = std::move(candela);
    }

    const std::string& name_;
    std::vector<std::string_view> lines_;
    std::size_t line_ = 0, at_ = 0;
    Word word_;
    std::size_t vertical_count_ = 0, horizontal_count_ = 0;
    std::optional<Problem> problem_;
    PhotometricFile out_;
};

}  // namespace

Read<PhotometricFile> read_photometric_text(std::string_view text, const std::string& name) {
    if (text.size() > largest_photometric_bytes)
        return tl::unexpected{std::vector{Problem{
            name, 0, 0, "the file is too large", "a photometric file holds up to 4 MiB", {}}}};
    auto read = PhotometricReader{text, name}.read();
    if (read) read->intensity.file = name;
    return read;
}

Read<PhotometricFile> read_photometric_file(const std::string& path) {
    const auto text = file::file_contents(path, largest_photometric_bytes, "a photometric file",
                                          a_photometric_file, file::Taken::plain_file);
    if (!text) return tl::unexpected{std::vector{text.error()}};
    return read_photometric_text(*text, path);
}

}  // namespace keyhour::read
