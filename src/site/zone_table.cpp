#include "zone_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "keyhour/site/dates.hpp"
#include "keyhour/site/zone.hpp"
#include "zone_cache.hpp"

namespace keyhour::site {
namespace {

/// The changes of a row.
class RowChanges final : public ListedChanges {
public:
    explicit RowChanges(const std::vector<ZoneChange>& changes) : changes_{changes} {}

    [[nodiscard]] std::optional<PosixZone::Offset> at(std::int64_t unix_s, bool) const override {
        const auto after = std::ranges::upper_bound(changes_, unix_s, {}, &ZoneChange::at_s);
        if (after == changes_.begin() || after == changes_.end()) return std::nullopt;
        return std::prev(after)->offset;
    }

private:
    std::vector<ZoneChange> changes_;
};

class ZoneTable final : public ZoneSource {
public:
    /// @pre sorted by name
    explicit ZoneTable(std::vector<ZoneRow> rows) : rows_{std::move(rows)} {
        for (const ZoneRow& row : rows_)
            if (row.place) places_.emplace(row.name, *row.place);
    }

    [[nodiscard]] bool is_there() const override { return !rows_.empty(); }
    [[nodiscard]] tl::expected<std::optional<NamedZone>, std::string> find(
        const std::string& name) const override {
        const auto row = std::ranges::lower_bound(rows_, name, {}, &ZoneRow::name);
        if (row == rows_.end() || row->name != name) return std::nullopt;
        NamedZone zone;
        std::string why;
        zone.rule = PosixZone::read(row->rule, why);
        if (!row->changes.empty()) zone.listed = std::make_shared<RowChanges>(row->changes);
        return zone;
    }
    [[nodiscard]] std::vector<std::string> names() const override {
        std::vector<std::string> names;
        for (const ZoneRow& row : rows_)
            names.push_back(row.name);
        return names;
    }
    [[nodiscard]] const ZonePlaces& places() const override { return places_; }

private:
    std::vector<ZoneRow> rows_;
    ZonePlaces places_;
};

std::unique_ptr<ZoneTable>& table_now() {
    static std::unique_ptr<ZoneTable> table;
    return table;
}

/// Why a row cannot serve; empty if it can.
std::string fault_of(const ZoneRow& row) {
    std::string why;
    if (row.name.empty()) return "a zone of the table has no name";
    if (!PosixZone::read(row.rule, why))
        return fmt::format("zone \"{}\" of the table: \"{}\" is no POSIX TZ string: {}", row.name,
                           row.rule, why);
    if (!std::ranges::is_sorted(row.changes, {}, &ZoneChange::at_s))
        return fmt::format("zone \"{}\" of the table: its changes do not ascend", row.name);
    return {};
}

constexpr std::int64_t seconds_a_day = 86400;

std::int64_t start_of_year(int year) {
    return date::sys_days{date::year{year} / 1 / 1}.time_since_epoch().count() * seconds_a_day;
}

bool same(const PosixZone::Offset& a, const PosixZone::Offset& b) {
    return a.east_s == b.east_s && a.daylight_saving == b.daylight_saving &&
           a.abbreviation == b.abbreviation;
}

/// A zone's own reading, whatever it comes from.
PosixZone::Offset offset_at(const NamedZone& zone, std::int64_t unix_s) {
    if (zone.listed)
        if (auto listed = zone.listed->at(unix_s, zone.rule != nullptr)) return *std::move(listed);
    return zone.rule->at(unix_s);
}

/// The second at which the offset at `from` gives way to the one at `to`.
std::int64_t change_between(const NamedZone& zone, std::int64_t from, std::int64_t to) {
    const PosixZone::Offset before = offset_at(zone, from);
    while (to - from > 1) {
        const std::int64_t middle = from + (to - from) / 2;
        (same(offset_at(zone, middle), before) ? from : to) = middle;
    }
    return to;
}

/// All changes of the years, where the rule alone would read some day of them otherwise.
std::vector<ZoneChange> changes_beside_rule(const NamedZone& zone) {
    const std::int64_t first = start_of_year(zone_table_first_year),
                       last = start_of_year(zone_table_last_year + 1);
    std::vector<ZoneChange> changes{{first, offset_at(zone, first)}};
    bool differs = false;
    for (std::int64_t t = first; t < last; t += seconds_a_day) {
        const PosixZone::Offset now = offset_at(zone, t + seconds_a_day);
        differs = differs || !same(now, zone.rule->at(t + seconds_a_day));
        if (same(now, changes.back().offset)) continue;
        const std::int64_t at = change_between(zone, t, t + seconds_a_day);
        changes.push_back({at, offset_at(zone, at)});
    }
    if (!differs) return {};
    changes.push_back({last, zone.rule->at(last)});
    return changes;
}

}  // namespace

const ZoneSource& zone_source() {
    const auto& table = table_now();
    return table ? static_cast<const ZoneSource&>(*table) : system_zones();
}

std::optional<std::string> use_zone_table(std::vector<ZoneRow> rows) {
    for (const ZoneRow& row : rows)
        if (std::string fault = fault_of(row); !fault.empty()) return fault;
    std::ranges::sort(rows, {}, &ZoneRow::name);
    table_now() = rows.empty() ? nullptr : std::make_unique<ZoneTable>(std::move(rows));
    forget_zones();
    return std::nullopt;
}

std::vector<ZoneRow> zone_table_of(const ZoneSource& source) {
    std::vector<ZoneRow> rows;
    for (const std::string& name : source.names()) {
        const auto zone = source.find(name);
        if (!zone || !*zone || !(*zone)->rule) continue;
        const auto place = source.places().find(name);
        rows.push_back(
            {name, (*zone)->rule->text(), changes_beside_rule(**zone),
             place == source.places().end() ? std::nullopt : std::optional{place->second}});
    }
    return rows;
}

}  // namespace keyhour::site
