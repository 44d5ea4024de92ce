#include "sun_rows.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <tl/expected.hpp>
#include <vector>

#include "app.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/nearest.hpp"
#include "keyhour/site/quoted.hpp"
#include "keyhour/sun/geocentric.hpp"
#include "keyhour/sun/position.hpp"
#include "read/csv_reader.hpp"
#include "tell/csv.hpp"
#include "tell/document.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

using Fields = std::vector<std::string>;

struct NumberColumn {
    const char* name;
    double low, high;
};
constexpr NumberColumn kLatitude{"latitude_deg", -90, 90};
constexpr NumberColumn kLongitude{"longitude_deg", -180, 180};
constexpr NumberColumn kElevation{"elevation_m", -500, 9000};
/// What other tables call the three columns.
constexpr std::array<std::pair<const char*, const char*>, 7> kOtherNames{
    {{"time", "utc"},
     {"datetime", "utc"},
     {"lat", "latitude_deg"},
     {"latitude", "latitude_deg"},
     {"lon", "longitude_deg"},
     {"lng", "longitude_deg"},
     {"longitude", "longitude_deg"}}};
constexpr std::array kComputed{"azimuth_deg",     "altitude_deg",        "apparent_altitude_deg",
                               "declination_deg", "right_ascension_deg", "distance_au"};

// What is wrong in which column.
struct BadField {
    std::string column, found, accepted;
};

std::string bare_field(const std::string& text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::optional<double> number_in(const std::string& text) {
    const std::string body = bare_field(text);
    const char* begin = body.data() + (body.starts_with('+') ? 1 : 0);
    const char* end = body.data() + body.size();
    double value = 0;
    const auto [rest, error] = std::from_chars(begin, end, value);
    if (error != std::errc{} || rest != end || !std::isfinite(value)) return std::nullopt;
    return value;
}

class RowsFilter {
public:
    RowsFilter(std::istream& in, const std::string& name, std::ostream& out, std::ostream& err)
        : csv_{in}, name_{name}, out_{out}, err_{err} {}

    int run() {
        if (!read_header()) return bad_data;
        Fields fields;
        while (out_) {
            const auto outcome = csv_.next(fields);
            if (outcome == read::CsvReader::Outcome::end) break;
            ++rows_;
            if (outcome == read::CsvReader::Outcome::damaged) {
                tell({"", csv_.fault(), "quotes by RFC 4180"});
            } else if (fields.size() != columns_.size()) {
                tell({"", fmt::format("{} fields", fields.size()),
                      fmt::format("{}, as in the header", columns_.size())});
            } else {
                answer(fields);
            }
        }
        if (bad_ == 0) return answered;
        fmt::print(err_, "{} of {} rows could not be answered\n", bad_, rows_);
        return bad_ == rows_ ? bad_data : partly_failed;
    }

private:
    bool read_header() {
        const auto outcome = csv_.next(columns_);
        if (outcome == read::CsvReader::Outcome::end)
            return refuse_header("nothing", "a header with utc,latitude_deg,longitude_deg");
        if (outcome == read::CsvReader::Outcome::damaged)
            return refuse_header(csv_.fault(), "quotes by RFC 4180");
        if (columns_[0].starts_with("\xEF\xBB\xBF")) columns_[0].erase(0, 3);  // a byte order mark
        for (std::string& column : columns_)
            column = bare_field(column);
        for (const char* computed : kComputed)
            if (column(computed))
                return refuse_header(fmt::format("a column \"{}\"", computed),
                                     "a name that the answer does not use");
        utc_ = column("utc");
        latitude_ = column(kLatitude.name);
        longitude_ = column(kLongitude.name);
        elevation_ = column(kElevation.name);
        for (const auto& [at, wanted] :
             {std::pair{utc_, "utc"}, {latitude_, kLatitude.name}, {longitude_, kLongitude.name}})
            if (!at)
                return refuse_header(
                    parted_by_semicolons() ? "fields parted by semicolons" : no_column(wanted),
                    remedy());
        line_end_ = csv_.ended_in_crlf() ? "\r\n" : "\n";
        write_record(columns_);
        for (const char* computed : kComputed)
            out_ << ',' << computed;
        out_ << line_end_;
        return true;
    }

    bool parted_by_semicolons() const {
        return columns_.size() == 1 && columns_.front().find(';') != std::string::npos;
    }

    /// What to do about a header without the three columns.
    std::string remedy() const {
        std::string text = "utc,latitude_deg,longitude_deg";
        if (parted_by_semicolons())
            return text + ", parted by commas, with decimals after a point (RFC 4180)";
        std::string renamed;
        for (const auto& [other, own] : kOtherNames)
            if (column(other) && !column(own))
                renamed +=
                    fmt::format("{}\"{}\" to \"{}\"", renamed.empty() ? "" : ", ", other, own);
        return renamed.empty() ? text
                               : text + ": rename " + renamed + "; times in UTC, ending in Z";
    }

    std::string no_column(const char* wanted) const {
        Fields others = columns_;
        std::erase_if(others, [](const std::string& name) {
            return name == "utc" || name == kLatitude.name || name == kLongitude.name ||
                   name == kElevation.name;
        });
        const auto meant = site::nearest(wanted, others);
        return fmt::format("no column \"{}\"{}", wanted,
                           meant ? fmt::format(" (is \"{}\" meant?)", *meant) : std::string{});
    }

    bool refuse_header(const std::string& found, const std::string& accepted) {
        fmt::print(err_, "{}:1: found {}; accepted: {}\n", words::shown(name_),
                   words::escaped(found), accepted);
        return false;
    }

    std::optional<std::size_t> column(const char* wanted) const {
        const auto at = std::find(columns_.begin(), columns_.end(), wanted);
        if (at == columns_.end()) return std::nullopt;
        return static_cast<std::size_t>(at - columns_.begin());
    }

    void tell(const BadField& bad) {
        ++bad_;
        fmt::print(err_, "{}:{}: row {}{}: found {}; accepted: {}\n", words::shown(name_),
                   csv_.line(), rows_,
                   bad.column.empty() ? std::string{} : ", column " + bad.column, bad.found,
                   bad.accepted);
    }

    static tl::expected<double, BadField> value(const Fields& fields, std::size_t at,
                                                const NumberColumn& column) {
        const auto found = number_in(fields[at]);
        if (found && *found >= column.low && *found <= column.high) return *found;
        return tl::unexpected{BadField{column.name, site::quoted(fields[at]),
                                       fmt::format("{:g} to {:g}", column.low, column.high)}};
    }

    struct Row {
        Instant at;
        Observer observer;
    };

    tl::expected<Row, BadField> read(const Fields& fields) const {
        const auto at = site::read_utc(bare_field(fields[*utc_]));
        if (!at) return tl::unexpected{BadField{"utc", at.error(), "such as 2026-03-10T15:03:12Z"}};
        const auto latitude = value(fields, *latitude_, kLatitude);
        if (!latitude) return tl::unexpected{latitude.error()};
        const auto longitude = value(fields, *longitude_, kLongitude);
        if (!longitude) return tl::unexpected{longitude.error()};
        double elevation_m = 0;
        if (elevation_) {
            const auto found = value(fields, *elevation_, kElevation);
            if (!found) return tl::unexpected{found.error()};
            elevation_m = *found;
        }
        return Row{*at, {Angle::degrees(*latitude), Angle::degrees(*longitude), elevation_m}};
    }

    void answer(const Fields& fields) {
        const auto row = read(fields);
        if (!row) {
            tell(row.error());
            return;
        }
        const auto p = sun::Place{row->observer}.position(sun::geocentric_sun(row->at));
        write_record(fields);
        fmt::print(out_, ",{:.7f},{:.7f},{:.7f},{:.7f},{:.7f},{:.9f}",
                   tell::rounded_turn(p.azimuth.from_north),
                   p.true_altitude.above_horizon.in_degrees(),
                   p.apparent_altitude.above_horizon.in_degrees(), p.declination.in_degrees(),
                   tell::rounded_turn(p.right_ascension), p.distance_au);
        out_ << line_end_;
    }

    void write_record(const Fields& fields) {
        for (std::size_t i = 0; i < fields.size(); ++i) {
            if (i > 0) out_ << ',';
            out_ << tell::csv_field(fields[i]);
        }
    }

    read::CsvReader csv_;
    const std::string& name_;
    std::ostream& out_;
    std::ostream& err_;
    Fields columns_;
    std::optional<std::size_t> utc_, latitude_, longitude_, elevation_;
    const char* line_end_ = "\n";
    long rows_ = 0, bad_ = 0;
};

}  // namespace

int answer_rows(std::istream& in, const std::string& name, std::ostream& out, std::ostream& err) {
    return RowsFilter{in, name, out, err}.run();
}

}  // namespace keyhour::cli
