#include <fmt/format.h>

#include <algorithm>

#include "keyhour/site/dates.hpp"
#include "shoot_parts.hpp"

namespace keyhour::read {
namespace {

using study::Shoot;

/// "scene 3 after scene 1", walked until a scene comes again.
class OrderWalk {
public:
    explicit OrderWalk(const Shoot& shoot) : shoot_{shoot}, state_(shoot.scenes.size()) {}

    /// A circle of scenes, each after the next, the last after the first; empty if there is none.
    std::vector<std::size_t> circle() {
        for (std::size_t i = 0; i < state_.size(); ++i)
            if (state_[i] == State::fresh && leads_back(i)) return way_;
        return {};
    }

private:
    enum class State { fresh, on_way, done };

    bool leads_back(std::size_t scene) {
        state_[scene] = State::on_way;
        way_.push_back(scene);
        for (const std::size_t earlier : shoot_.scenes[scene].after) {
            if (state_[earlier] == State::on_way) {
                way_.erase(way_.begin(), std::ranges::find(way_, earlier));
                return true;
            }
            if (state_[earlier] == State::fresh && leads_back(earlier)) return true;
        }
        state_[scene] = State::done;
        way_.pop_back();
        return false;
    }

    const Shoot& shoot_;
    std::vector<State> state_;
    std::vector<std::size_t> way_;
};

class ShootChecks {
public:
    ShootChecks(Fields& root, const Shoot& shoot, Findings& findings)
        : root_{root}, shoot_{shoot}, findings_{findings}, scenes_{root.tables("scene")} {}

    void check() {
        if (!check_clock()) return;
        check_hours();
        check_order();
        for (std::size_t i = 0; i < shoot_.scenes.size(); ++i)
            check_scene(i);
    }

private:
    Fields scene(std::size_t i) const {
        return {*scenes_[i], fmt::format("[[scene]] \"{}\"", shoot_.scenes[i].name), findings_};
    }

    /// One clock for all: the offsets agree on every day.
    bool check_clock() {
        const auto places = root_.tables("place");
        bool one = true;
        for (std::size_t i = 1; i < shoot_.places.size(); ++i)
            for (const site::LocalDate day : shoot_.days) {
                const site::Zone& zone = shoot_.places[i].location.site.zone;
                if (zone.start_of(day) == shoot_.zone().start_of(day)) continue;
                Fields f{*places[i], fmt::format("[[place]] \"{}\"", shoot_.places[i].name),
                         findings_};
                f.complain(
                    "file",
                    fmt::format("{} has another clock than \"{}\": {} and {}", f.shown("file"),
                                shoot_.places[0].name, zone.name(), shoot_.zone().name()),
                    "accepted: places of one time zone; plan each zone by itself");
                one = false;
                break;
            }
        return one;
    }

    void check_hours() {
        const auto* table = root_.table("shoot", Need::optional, "");
        Fields f{*table, "[shoot]", findings_};
        for (const site::LocalDate day : shoot_.days)
            for (const std::chrono::seconds time : {shoot_.rules.hours.from, shoot_.rules.hours.to})
                if (const auto at = shoot_.zone().instant(date::local_days{day} + time); !at)
                    f.complain("hours", fmt::format("{}: {}", f.shown("hours"), at.error().message),
                               "accepted: hours that every day of the shoot has once");
    }

    void check_order() {
        const auto circle = OrderWalk{shoot_}.circle();
        if (circle.empty()) return;
        std::string way;
        for (const std::size_t i : circle)
            way += fmt::format("\"{}\" after ", shoot_.scenes[i].name);
        Fields f = scene(circle.front());
        f.complain(f.has("after") ? "after" : "name",
                   fmt::format("the order runs in a circle: {}\"{}\"", way,
                               shoot_.scenes[circle.front()].name),
                   "accepted: an order with a beginning; take one of these out");
    }

    /// Minutes between the hours on the longest of the days.
    std::pair<int, site::LocalDate> longest_day() const {
        std::pair<int, site::LocalDate> longest{-1, {}};
        for (const site::LocalDate day : shoot_.days) {
            const auto at = [&](std::chrono::seconds time) {
                return *shoot_.zone().instant(date::local_days{day} + time);
            };
            const auto& hours = shoot_.rules.hours;
            if (const auto from = shoot_.zone().instant(date::local_days{day} + hours.from),
                to = shoot_.zone().instant(date::local_days{day} + hours.to);
                !from || !to)
                continue;
            const int minutes = static_cast<int>((at(hours.to) - at(hours.from)).count() / 60);
            if (minutes > longest.first) longest = {minutes, day};
        }
        return longest;
    }

    void check_scene(std::size_t i) {
        const study::ShootScene& s = shoot_.scenes[i];
        const auto [minutes, day] = longest_day();
        const auto wanted = (s.length + s.over_run).count();
        if (minutes >= 0 && wanted > minutes) {
            const bool shortened =
                !site::clock_changes(shoot_.zone(), day, day).empty() || shoot_.days.size() > 1;
            scene(i).complain(
                "minutes",
                fmt::format("{} of {} minutes{} is longer than the day's hours, {} minutes{}",
                            s.repeatable ? "a scene" : "a lock", wanted,
                            s.over_run.count() > 0 ? " with its over-run" : "", minutes,
                            shortened ? " on " + site::iso_date(day) : ""),
                "accepted: a shorter one, or hours in [shoot] that hold it");
        }
        if (s.same_set_up && shoot_.scenes[*s.same_set_up].place != s.place)
            scene(i).complain("same_set_up_as",
                              fmt::format("\"{}\" and \"{}\" are at two places", s.name,
                                          shoot_.scenes[*s.same_set_up].name),
                              "accepted: a scene at the same place");
    }

    Fields& root_;
    const Shoot& shoot_;
    Findings& findings_;
    std::vector<const toml::table*> scenes_;
};

}  // namespace

void check_shoot(Fields& root, const Shoot& shoot, Findings& findings) {
    ShootChecks{root, shoot, findings}.check();
}

}  // namespace keyhour::read
