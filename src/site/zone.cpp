#include "keyhour/site/zone.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "keyhour/site/dates.hpp"
#include "keyhour/site/nearest.hpp"
#include "zone_cache.hpp"
#include "zone_source.hpp"

#ifndef __wasi__
#include <mutex>
#endif

namespace keyhour::site {

#ifdef __wasi__
/// WebAssembly has one thread, and its library no mutex.
struct Mutex {
    void lock() {}
    void unlock() {}
};
#else
using Mutex = std::mutex;
#endif

using std::chrono::seconds;

/// Changes as far as they are listed, then the rule; or a POSIX rule alone; or, with neither, UTC.
struct Zone::Rules {
    std::shared_ptr<const ListedChanges> listed;
    std::unique_ptr<PosixZone> rule;

    [[nodiscard]] PosixZone::Offset at(std::int64_t unix_s) const {
        if (listed != nullptr)
            if (auto offset = listed->at(unix_s, rule != nullptr)) return *std::move(offset);
        if (rule != nullptr) return rule->at(unix_s);
        return {0, false, "UTC"};
    }
    std::optional<std::string> read_rule(const std::string& text);
};

namespace {

constexpr const char* zones_accepted =
    "accepted: an IANA name such as \"Europe/London\", or a POSIX TZ string such as "
    "\"GMT0BST,M3.5.0/1,M10.5.0\"";
constexpr std::int64_t day_s = 86400;

std::string refusal(const std::string& text, const std::string& why) {
    return fmt::format("time zone \"{}\" {}; {}", text, why, zones_accepted);
}

// "London" is near to "Europe/London" though most letters are missing; so is "new york".
std::optional<std::string> nearest_zone(const std::string& text,
                                        const std::vector<std::string>& names) {
    std::string wanted = text;
    std::replace(wanted.begin(), wanted.end(), ' ', '_');
    const auto by_whole = nearest(wanted, names);
    const std::size_t distance = by_whole ? edit_distance(wanted, *by_whole) : wanted.size();
    if (distance == 0) return by_whole;
    if (wanted.size() <= 3) return std::nullopt;  // an abbreviation is near to many names
    if (distance == 1) return by_whole;
    std::vector<std::string> towns;
    towns.reserve(names.size());
    for (const std::string& name : names)
        towns.push_back(name.substr(name.rfind('/') + 1));
    const std::string town = wanted.substr(wanted.rfind('/') + 1);
    const auto best = nearest(town, towns);
    if (best && edit_distance(town, *best) <= std::max<std::size_t>(1, town.size() / 5))
        return names[static_cast<std::size_t>(std::find(towns.begin(), towns.end(), *best) -
                                              towns.begin())];
    return by_whole;
}

bool looks_like_rule(const std::string& text) {
    if (text.find('/') != std::string::npos && text.find(',') == std::string::npos) return false;
    return text.find_first_of("0123456789,<>") != std::string::npos;
}

// POSIX counts west as positive, people count east: "UTC+1" would be an hour west of Greenwich.
bool sign_is_a_trap(const std::string& text) {
    if (text.size() < 5 || (text.substr(0, 3) != "UTC" && text.substr(0, 3) != "GMT")) return false;
    return (text[3] == '+' || text[3] == '-') &&
           text.find_first_not_of("0123456789:", 4) == std::string::npos;
}

std::string trap_message(const std::string& text, const PosixZone& rule) {
    const auto offset = seconds{rule.at(0).east_s};
    const auto written = [](seconds east) {
        const std::string text_east = utc_offset(east);  // UTC+05:30
        const std::string text_west = utc_offset(-east);
        return fmt::format("\"<{}>{}\" for {}", text_east.substr(3, 3), text_west.substr(3),
                           text_east);
    };
    return refusal(text, fmt::format("is two zones: as a POSIX TZ string it is {}, as people write "
                                     "it {}; write {} or {}",
                                     utc_offset(offset), utc_offset(-offset), written(offset),
                                     written(-offset)));
}

std::int64_t whole_seconds(LocalTime local) {
    return local.time_since_epoch().count();
}

/// Zones read before: many places share one, and reading its file costs more than all the rest of a
/// location. Shared by all threads; bounded, as POSIX strings are endless.
class ZonesRead {
public:
    std::optional<Zone> find(const std::string& name) {
        const Held lock{mutex_};
        const auto at = zones_.find(name);
        return at == zones_.end() ? std::nullopt : std::optional{at->second};
    }
    void keep(const Zone& zone) {
        constexpr std::size_t most = 1024;
        const Held lock{mutex_};
        if (zones_.size() >= most) zones_.clear();
        zones_.emplace(zone.name(), zone);
    }

    void forget() {
        const Held lock{mutex_};
        zones_.clear();
    }

private:
    struct Held {
        explicit Held(Mutex& m) : mutex{m} { mutex.lock(); }
        Held(const Held&) = delete;
        Held& operator=(const Held&) = delete;
        ~Held() { mutex.unlock(); }
        Mutex& mutex;
    };
    Mutex mutex_;
    std::unordered_map<std::string, Zone> zones_;
};

ZonesRead& zones_read() {
    static ZonesRead zones;
    return zones;
}

}  // namespace

tl::expected<Zone, std::string> Zone::named(const std::string& text) {
    if (auto known = zones_read().find(text)) return *std::move(known);
    auto zone = read(text);
    if (zone) zones_read().keep(*zone);
    return zone;
}

void forget_zones() {
    zones_read().forget();
}

namespace {

bool is_printable_name(const std::string& text) {
    constexpr std::size_t longest = 128;
    return text.size() <= longest && std::all_of(text.begin(), text.end(), [](char c) {
               return static_cast<unsigned char>(c) >= 0x20 &&
                      static_cast<unsigned char>(c) <= 0x7e;
           });
}

/// Why there is no such zone, with the nearest name.
std::string unknown_zone(const std::string& text, const ZoneSource& source) {
    if (!source.is_there())
        return refusal(text,
                       "cannot be looked up: this machine has no zone files (on Debian, the "
                       "package tzdata)");
    const auto suggestion = nearest_zone(text, source.names());
    return refusal(text, suggestion ? fmt::format("is not known; did you mean \"{}\"?", *suggestion)
                                    : "is not known");
}

}  // namespace

/// @return the whole message where the text is no rule, or may be read as another; else nothing
std::optional<std::string> Zone::Rules::read_rule(const std::string& text) {
    std::string why;
    rule = PosixZone::read(text, why);
    if (rule == nullptr) return refusal(text, "is no POSIX TZ string: " + why);
    if (sign_is_a_trap(text) && rule->at(0).east_s != 0) return trap_message(text, *rule);
    return std::nullopt;
}

tl::expected<Zone, std::string> Zone::read(const std::string& text) {
    if (text.empty()) return tl::unexpected{refusal(text, "is empty")};
    if (!is_printable_name(text))
        return tl::unexpected{std::string{"time zone is no name of printable ASCII letters; "} +
                              zones_accepted};
    if (text == "UTC") return Zone{};  // needs no zone files
    auto rules = std::make_shared<Rules>();
    const bool surely_rule = text.find_first_of(",<") != std::string::npos;
    const ZoneSource& source = zone_source();
    if (!surely_rule) {
        auto named = source.find(text);
        if (!named) return tl::unexpected{refusal(text, named.error())};
        if (*named) {
            rules->listed = std::move((*named)->listed);
            rules->rule = std::move((*named)->rule);
        }
    }
    const bool is_named = rules->listed != nullptr || rules->rule != nullptr;
    if (!is_named && looks_like_rule(text)) {
        if (auto fault = rules->read_rule(text)) return tl::unexpected{*std::move(fault)};
    } else if (!is_named) {
        return tl::unexpected{unknown_zone(text, source)};
    }
    Zone zone;
    zone.name_ = text;
    zone.rules_ = std::move(rules);
    return zone;
}

Zone::Zone() : name_{"UTC"}, rules_{std::make_shared<Rules>()} {}

const std::string& Zone::name() const noexcept {
    return name_;
}

ClockReading Zone::at(Instant t) const {
    const auto unix_s = static_cast<std::int64_t>(std::floor(t.unix_s()));
    PosixZone::Offset offset = rules_->at(unix_s);
    return {LocalTime{seconds{unix_s + offset.east_s}}, seconds{offset.east_s},
            std::move(offset.abbreviation), offset.daylight_saving};
}

tl::expected<Instant, ClockProblem> Zone::instant(LocalTime local) const {
    // Offsets in force a day before and a day after: a change between them is what can spoil local.
    const std::int64_t local_s = whole_seconds(local);
    const std::int32_t before = rules_->at(local_s - day_s).east_s;
    const std::int32_t after = rules_->at(local_s + day_s).east_s;
    const auto holds = [&](std::int32_t east_s) {
        return rules_->at(local_s - east_s).east_s == east_s;
    };
    const bool by_before = holds(before);
    const bool by_after = holds(after);
    const auto as_instant = [&](std::int32_t east_s) {
        return Instant::from_unix_s(static_cast<double>(local_s - east_s));
    };
    if (by_before && (before == after || !by_after)) return as_instant(before);
    if (by_after && !by_before) return as_instant(after);
    const std::string when = iso_local_time(local);
    const std::string at_before = iso_utc(as_instant(before)),
                      at_after = iso_utc(as_instant(after));
    if (by_before)
        return tl::unexpected{ClockProblem{
            ClockProblem::Kind::repeated,
            fmt::format("{} happens twice in {}, as the clocks go back: at {} ({}) and at {} ({}); "
                        "say which, with {} or {} behind the time",
                        when, name_, at_before, utc_offset(seconds{before}), at_after,
                        utc_offset(seconds{after}), utc_offset(seconds{before}).substr(3),
                        utc_offset(seconds{after}).substr(3))}};
    return tl::unexpected{ClockProblem{
        ClockProblem::Kind::skipped,
        fmt::format(
            "{} does not exist in {}, as the clocks go forward: by the offset before ({}) it "
            "reads {}, by the offset after ({}) {}",
            when, name_, utc_offset(seconds{before}), iso_local(as_instant(before), *this),
            utc_offset(seconds{after}), iso_local(as_instant(after), *this))}};
}

Instant Zone::start_of(LocalDate day) const {
    const LocalTime midnight{date::local_days{day}};
    const std::int64_t local_s = whole_seconds(midnight);
    const std::int32_t before = rules_->at(local_s - day_s).east_s;
    const std::int32_t after = rules_->at(local_s + day_s).east_s;
    const auto holds = [&](std::int32_t east_s) {
        return rules_->at(local_s - east_s).east_s == east_s;
    };
    for (const std::int32_t east_s : {before, after})
        if (holds(east_s)) return Instant::from_unix_s(static_cast<double>(local_s - east_s));
    // Midnight is skipped: the day starts where the clocks go forward.
    const auto reaches = [&](std::int64_t unix_s) {
        return unix_s + rules_->at(unix_s).east_s >= local_s;
    };
    std::int64_t low = local_s - std::max(before, after);
    std::int64_t high = local_s - std::min(before, after);
    while (high - low > 1) {  // high: the clock shows this date or a later one
        const std::int64_t middle = low + (high - low) / 2;
        (reaches(middle) ? high : low) = middle;
    }
    return Instant::from_unix_s(static_cast<double>(high));
}

}  // namespace keyhour::site
