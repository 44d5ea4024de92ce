#include "shoot_events.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "plan_words.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/shoot_names.hpp"

namespace keyhour::tell {
namespace {

using EventKind = SheetEvent::Kind;

class ShootEvents {
public:
    explicit ShootEvents(const study::Shoot& shoot) : shoot_{shoot} {}

    void add_scene(const ask::PlannedScene& s, std::size_t day) {
        const study::ShootScene& scene = shoot_.scenes[s.scene];
        const std::string& place = shoot_.places[scene.place].name;
        if (s.move > Seconds{0})
            add(EventKind::rigging, s, day, fmt::format("Move to {}", place),
                {s.set_up_from - s.move, s.set_up_from});
        if (s.set_up_from < s.from)
            add(EventKind::rigging, s, day, fmt::format("Rig: {}", scene.name),
                {s.set_up_from, s.from});
        for (const study::ClothToHang& cloth : s.cloth)
            add_cloth(cloth, s, day);
        const bool is_lock = !scene.repeatable;
        SheetEvent& e = add(is_lock ? EventKind::lock : EventKind::scene, s, day,
                            fmt::format("{}{}", is_lock ? "Lock: " : "", scene.name),
                            {s.from, is_lock ? s.to + Seconds{scene.over_run} : s.to});
        e.detail =
            fmt::format("{}; begin by {}, slack {}{}", words::name(scene.light),
                        words::minute_down(s.latest, shoot_.zone()), words::in_minutes(s.slack()),
                        s.is_sure ? "" : ", NOT SURE within the doubt");
    }

    std::vector<SheetEvent> list() {
        for (std::size_t i = 0; i < events_.size(); ++i)
            for (std::size_t j = 0; j < i; ++j)
                if (is_alike(events_[i], events_[j]))
                    events_[i].number = std::max(events_[i].number, events_[j].number + 1);
        return std::move(events_);
    }

private:
    /// The same in an event's name (its UID), but for its number.
    static bool is_alike(const SheetEvent& a, const SheetEvent& b) {
        return a.kind == b.kind && a.date == b.date && a.spot == b.spot && a.window == b.window;
    }

    SheetEvent& add(EventKind kind, const ask::PlannedScene& s, std::size_t day, std::string what,
                    const study::Span& span) {
        const study::ShootScene& scene = shoot_.scenes[s.scene];
        const study::ShootPlace& place = shoot_.places[scene.place];
        SheetEvent e;
        e.kind = kind;
        e.date = shoot_.days[day];
        e.what = std::move(what);
        e.span = span;
        e.spot = scene.name;
        e.place = EventPlace{place.name, place.location.site.observer};
        events_.push_back(std::move(e));
        return events_.back();
    }

    void add_cloth(const study::ClothToHang& cloth, const ask::PlannedScene& s, std::size_t day) {
        constexpr Seconds shown{300};
        const site::Location& location = shoot_.places[shoot_.scenes[s.scene].place].location;
        const std::string& window = location.room->windows[cloth.window].name;
        SheetEvent& e = add(EventKind::hang, s, day,
                            fmt::format("Hang {}: cloth {}", window,
                                        words::size(cloth.cloth.width_m, cloth.cloth.height_m,
                                                    site::Units::metres, words::Rounding::up)),
                            {cloth.needed_by - shown, cloth.needed_by});
        e.window = window;
        e.detail = fmt::format("hang by {}", words::minute_down(cloth.needed_by, shoot_.zone()));
    }

    const study::Shoot& shoot_;
    std::vector<SheetEvent> events_;
};

}  // namespace

std::vector<SheetEvent> shoot_events(const study::Shoot& shoot, const ask::PlanAnswer& answer) {
    ShootEvents events{shoot};
    for (const ask::PlannedDay& day : answer.days)
        for (const ask::PlannedScene& scene : day.scenes)
            events.add_scene(scene, day.day);
    return events.list();
}

site::Location shoot_as_location(const study::Shoot& shoot) {
    site::Location out;
    out.site = shoot.places.front().location.site;
    out.site.name = shoot.name;
    return out;
}

}  // namespace keyhour::tell
