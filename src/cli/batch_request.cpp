#include "batch_request.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>

#include "file/run_file.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/version.hpp"
#include "numbers.hpp"

namespace keyhour::cli {
namespace {

/// Dates of one place that are answered in one piece.
constexpr std::size_t part_dates = 366;

Answer<double> within(const char* option, double value, double least, double most,
                      const char* unit) {
    if (value >= least && value <= most) return value;
    return usage_failure(
        fmt::format("{} {:g}: accepted: {:g} to {:g} {}", option, value, least, most, unit));
}

struct Given {
    const char* option;
    bool is_given;
};

/// The first that is given, and why it must not be.
std::optional<Failure> refused(std::initializer_list<Given> options, const char* why) {
    for (const Given& g : options)
        if (g.is_given) return Failure{wrong_usage, g.option + std::string{why}};
    return std::nullopt;
}

/// Options that say nothing to what is asked.
std::optional<Failure> misplaced_in_question(const BatchRequest& r) {
    if (r.ask == "key" && !r.late_light.empty())
        return Failure{wrong_usage, "--late-light goes with --ask day or --ask exterior"};
    if (r.ask != "key")
        if (auto failure = refused({{"--min-level-lx", r.min_level_lx.has_value()},
                                    {"--coverage", r.coverage_percent.has_value()},
                                    {"--near", r.near_m.has_value()},
                                    {"--key-angle", !r.key_angle.empty()},
                                    {"--altitude", !r.altitude.empty()},
                                    {"--earliest-start", !r.earliest_start.empty()},
                                    {"--latest-end", !r.latest_end.empty()},
                                    {"--as-is", r.as_is},
                                    {"--visit", r.visit}},
                                   " is about the clean key: it goes with --ask key"))
            return failure;
    if (r.ask != "key" && r.ask != "lock")
        if (auto failure = refused({{"--min-sure", r.min_sure_min.has_value()},
                                    {"--all", r.all},
                                    {"--per range", r.per == "range"},
                                    {"--compare", r.compare}},
                                   " goes with --ask key or --ask lock"))
            return failure;
    if (r.ask == "lock" && r.min_hold_min)
        return Failure{wrong_usage, "--min-hold: the length of a lock is --minutes"};
    if (r.ask != "lock")
        if (auto failure = refused({{"--minutes", r.lock_min.has_value()},
                                    {"--hours", !r.hours.empty()},
                                    {"--key-window", !r.key_window.empty()}},
                                   " is about a lock: it goes with --ask lock"))
            return failure;
    if (r.ask != "day") return std::nullopt;
    return refused({{"--min-hold", r.min_hold_min.has_value()},
                    {"--only-fitting", r.only_fitting},
                    {"--best", r.best.has_value()}},
                   " needs a light that holds: --ask key or --ask exterior");
}

/// Options that say nothing to the form of the answer.
std::optional<Failure> misplaced_in_answer(const BatchRequest& r) {
    if (!r.visit)
        if (auto failure = refused({{"--speed-kmh", r.speed_kmh.has_value()},
                                    {"--detour", r.detour.has_value()},
                                    {"--setup", r.setup_min.has_value()}},
                                   " goes with --visit"))
            return failure;
    if (r.compare + r.visit + r.best.has_value() > 1)
        return Failure{wrong_usage, "--best, --compare and --visit are three answers: give one"};
    const bool whole = r.compare || r.visit || r.best;
    if (whole && r.resume)
        return Failure{wrong_usage,
                       "--resume goes on with a stream; --best, --compare and --visit need all "
                       "places first"};
    if (r.compare || r.visit)
        if (auto failure = refused({{"--per range", r.per == "range"},
                                    {"--all", r.all},
                                    {"--only-fitting", r.only_fitting}},
                                   " says nothing to --compare and --visit"))
            return failure;
    if (r.force && r.out.empty()) return Failure{wrong_usage, "--force goes with --out FILE"};
    if (r.resume && r.force)
        return Failure{wrong_usage, "--resume goes on, --force begins anew: give one"};
    if (r.resume && r.out.empty()) return Failure{wrong_usage, "--resume needs --out FILE"};
    if (r.csv && r.json) return Failure{wrong_usage, "--csv and --json: give one"};
    if (r.no_header && r.json)
        return Failure{wrong_usage, "--no-header: lines of JSON have no header"};
    return std::nullopt;
}

template <class Value>
std::optional<Failure> store(Answer<double> read, Value& value) {
    if (!read) return read.error();
    value = Value{*read};
    return std::nullopt;
}

std::optional<Failure> read_minutes(const char* option, std::optional<double> given,
                                    Seconds& value) {
    if (!given) return std::nullopt;
    const auto read = within(option, *given, 1, 1440, "minutes");
    if (!read) return read.error();
    value = Seconds{60 * *read};
    return std::nullopt;
}

/// Degrees, from 0 to `most`.
std::optional<Failure> read_degrees(const char* option, const std::string& text, double most,
                                    double (&value)[2]) {
    if (text.empty()) return std::nullopt;
    const auto read = read_pair(text, 0, most);
    if (!read) return Failure{wrong_usage, option + (": " + read.error())};
    std::copy(read->begin(), read->end(), value);
    return std::nullopt;
}

std::optional<Failure> read_hour(const char* option, const std::string& text,
                                 std::optional<std::chrono::seconds>& value) {
    if (text.empty()) return std::nullopt;
    const auto read = site::read_time_of_day(text);
    if (!read) return Failure{wrong_usage, option + (": " + read.error())};
    value = *read;
    return std::nullopt;
}

std::optional<Failure> read_key(const BatchRequest& r, study::KeySettings& key) {
    const double percent = r.coverage_percent.value_or(key.coverage * 100);
    if (auto f = store(within("--coverage", percent, 1, 100, "percent of the mark"), key.coverage))
        return f;
    key.coverage /= 100;
    if (auto f =
            store(within("--near", r.near_m.value_or(key.near_m), 0, 100, "metres"), key.near_m))
        return f;
    key.as_is = r.as_is;
    if (auto f = read_degrees("--key-angle", r.key_angle, 180, key.key_angle_deg)) return f;
    return read_degrees("--altitude", r.altitude, 90, key.altitude_deg);
}

std::optional<Failure> read_criteria(const BatchRequest& r, study::KeyCriteria& criteria) {
    if (auto f = read_minutes("--min-hold", r.min_hold_min, criteria.min_hold)) return f;
    if (auto f = read_minutes("--min-sure", r.min_sure_min, criteria.min_sure)) return f;
    if (r.min_level_lx)
        if (auto f = store(within("--min-level-lx", *r.min_level_lx, 1, 150'000, "lx"),
                           criteria.min_level_lx))
            return f;
    return std::nullopt;
}

std::optional<Failure> read_hours_wanted(const BatchRequest& r, study::KeyCriteria& criteria) {
    if (auto f = read_hour("--earliest-start", r.earliest_start, criteria.earliest_start)) return f;
    if (auto f = read_hour("--latest-end", r.latest_end, criteria.latest_end)) return f;
    if (criteria.earliest_start && criteria.latest_end &&
        *criteria.earliest_start >= *criteria.latest_end)
        return Failure{wrong_usage, "--earliest-start " + r.earliest_start +
                                        " is not before --latest-end " + r.latest_end};
    return std::nullopt;
}

std::optional<Failure> read_lock(const BatchRequest& r, LockWish& lock) {
    const auto whole = [](Seconds s) {
        return std::chrono::duration_cast<std::chrono::seconds>(s);
    };
    lock.key_window = r.key_window;
    if (r.lock_min) {
        const auto minutes = within("--minutes", *r.lock_min, 1, 1440, "minutes");
        if (!minutes) return minutes.error();
        lock.length = whole(Seconds{60 * *minutes});
    }
    if (r.hours.empty()) return std::nullopt;
    const auto hours = read_hours(r.hours);
    if (!hours) return Failure{wrong_usage, "--hours: " + hours.error()};
    lock.hours = {whole(hours->first), whole(hours->second)};
    if (lock.length && *lock.length > lock.hours->length())
        return Failure{wrong_usage,
                       fmt::format("--minutes {:g}: the lock is longer than --hours {}",
                                   *r.lock_min, r.hours)};
    return std::nullopt;
}

std::optional<Failure> read_visit(const BatchRequest& r, study::VisitSettings& visit) {
    if (!r.visit) return std::nullopt;
    if (!r.speed_kmh)
        return Failure{wrong_usage,
                       "--visit needs --speed-kmh: how fast you get from room to room"};
    if (!r.min_hold_min)
        return Failure{wrong_usage, "--visit needs --min-hold: the minutes of work in each room"};
    if (auto f = store(within("--speed-kmh", *r.speed_kmh, 1, 1000, "km/h"), visit.speed_kmh))
        return f;
    if (auto f = store(
            within("--detour", r.detour.value_or(visit.detour), 1, 10, "times the crow's flight"),
            visit.detour))
        return f;
    double setup_min = 0;
    if (auto f = store(
            within("--setup", r.setup_min.value_or(visit.setup.count() / 60), 0, 1440, "minutes"),
            setup_min))
        return f;
    visit.setup = Seconds{60 * setup_min};
    visit.work = Seconds{60 * *r.min_hold_min};
    return std::nullopt;
}

/// The sun over all dates in every zone, with two days before and after: spans run across midnight.
std::shared_ptr<const study::SharedTrack> track_over(const std::vector<site::LocalDate>& dates) {
    const site::Zone utc;
    const Seconds day{86400};
    return study::SharedTrack::make(utc.start_of(dates.front()) - 2 * day,
                                    utc.start_of(dates.back()) + 4 * day);
}

/// Of all that shapes a line, so that a run is gone on with only by the same question.
std::uint64_t digest_of(const BatchRequest& r, const BatchQuestion& q) {
    std::string text =
        fmt::format("{}|{}|{}|{}|", version(), r.ask, r.per, static_cast<int>(q.form));
    for (const site::LocalDate d : q.dates)
        text += site::iso_date(d) + ',';
    text +=
        fmt::format("|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}", q.key.coverage,
                    q.key.key_angle_deg[0], q.key.key_angle_deg[1], q.key.altitude_deg[0],
                    q.key.altitude_deg[1], q.key.near_m, q.key.as_is, q.criteria.min_hold.count(),
                    q.criteria.min_sure.count(), q.criteria.min_level_lx.value_or(0),
                    r.earliest_start, r.latest_end, r.late_light, r.only_fitting, r.all,
                    r.no_header, r.lock_min.value_or(0), r.hours, r.key_window);
    for (const read::Change& change : q.changes)
        text += '|' + change.text;
    return file::digest(text);
}

}  // namespace

std::size_t BatchQuestion::parts() const {
    return per_range ? 1 : (dates.size() + part_dates - 1) / part_dates;
}

namespace {

/// Words and counts that are accepted.
std::optional<Failure> unknown_words(const BatchRequest& r) {
    if (r.inputs.empty())
        return Failure{wrong_usage,
                       "no places: give location files, folders of them, or - for lines of JSON on "
                       "standard input"};
    if (r.ask != "key" && r.ask != "exterior" && r.ask != "day" && r.ask != "lock")
        return Failure{wrong_usage, "--ask \"" + r.ask + "\": accepted: key, exterior, day, lock"};
    if (r.per != "date" && r.per != "range")
        return Failure{wrong_usage, "--per \"" + r.per + "\": accepted: date, range"};
    return std::nullopt;
}

std::optional<Failure> out_of_range(const BatchRequest& r) {
    if (r.best && (*r.best < 1 || *r.best > 10'000))
        return Failure{wrong_usage, fmt::format("--best {}: accepted: 1 to 10000", *r.best)};
    if (r.threads < 0 || r.threads > 256)
        return Failure{wrong_usage, fmt::format("--threads {}: accepted: 1 to 256", r.threads)};
    return std::nullopt;
}

/// What needs no check.
void take_over(const BatchRequest& r, BatchQuestion& q) {
    q.ask = r.ask == "day"        ? BatchQuestion::Ask::day
            : r.ask == "exterior" ? BatchQuestion::Ask::exterior
            : r.ask == "lock"     ? BatchQuestion::Ask::lock
                                  : BatchQuestion::Ask::key;
    q.form = r.csv ? BatchForm::csv : r.json ? BatchForm::json : BatchForm::table;
    q.per_range = r.per == "range";
    q.only_fitting = r.only_fitting;
    q.all = r.all;
    q.is_ranking = r.best.has_value();
    q.with_header = !r.no_header;
}

std::optional<Failure> read_late_band(const BatchRequest& r, BatchQuestion& q) {
    if (r.late_light.empty()) return std::nullopt;
    const auto band = read_pair(r.late_light, -18, 90);
    if (!band) return Failure{wrong_usage, "--late-light: " + band.error()};
    q.band = {{Angle::degrees((*band)[0])}, {Angle::degrees((*band)[1])}};
    q.spot.late_light = q.band;
    return std::nullopt;
}

}  // namespace

Answer<BatchQuestion> read_question(const BatchRequest& request) {
    const BatchRequest& r = request;
    if (const auto failure = unknown_words(r)) return tl::unexpected{*failure};
    for (const auto check : {misplaced_in_question, misplaced_in_answer, out_of_range})
        if (const auto failure = check(r)) return tl::unexpected{*failure};
    BatchQuestion q;
    take_over(r, q);
    auto dates = r.dates.read();
    if (!dates) return tl::unexpected{dates.error()};
    q.dates = *std::move(dates);
    q.changes = r.what_if.changes();
    if (const auto failure = read_criteria(r, q.criteria)) return tl::unexpected{*failure};
    if (const auto failure = read_key(r, q.key)) return tl::unexpected{*failure};
    if (const auto failure = read_hours_wanted(r, q.criteria)) return tl::unexpected{*failure};
    if (const auto failure = read_lock(r, q.lock)) return tl::unexpected{*failure};
    if (const auto failure = read_visit(r, q.visit)) return tl::unexpected{*failure};
    if (const auto failure = read_late_band(r, q)) return tl::unexpected{*failure};
    q.track = track_over(q.dates);
    if (!q.track)
        return usage_failure(
            "batch looks some days beyond its dates; dates served: 1800-01-04 to "
            "2199-12-26");
    q.digest = digest_of(r, q);
    return q;
}

}  // namespace keyhour::cli
