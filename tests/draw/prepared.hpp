#pragma once
// A location prepared for one date, and what is drawn of it.

#include <date/date.h>

#include <catch2/catch.hpp>
#include <memory>
#include <string>
#include <vector>

#include "draw/plan_drawing.hpp"
#include "draw/section_drawing.hpp"
#include "draw/strip_drawing.hpp"
#include "draw/year_drawing.hpp"
#include "keyhour/study/patch_day.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "keyhour/study/sheet_day.hpp"
#include "read/location_file.hpp"

namespace keyhour::test {

/// A location prepared for one date.
struct Prepared {
    explicit Prepared(site::Location read, site::LocalDate on)
        : location{std::move(read)}, date{on} {
        const site::Zone& zone = location.site.zone;
        shared = study::SharedTrack::make(zone.start_of(on) - Seconds{86400},
                                          zone.start_of(on) + Seconds{4 * 86400.0});
        if (location.room)
            seasons = std::make_unique<study::SeasonalStudy>(location, shared, on, on);
    }
    [[nodiscard]] const study::RoomStudy* room() const {
        return seasons ? &seasons->on(date) : nullptr;
    }
    [[nodiscard]] site::Location there() const {
        return seasons ? room()->location() : site::in_season(location, date);
    }
    [[nodiscard]] draw::PlanDrawing plan(std::vector<Instant> hours = {}) const {
        if (hours.empty() && seasons) hours = study::hours_of_patches(*room(), date);
        const site::Location in_season = there();
        return draw::draw_plan(in_season, room(), {date, hours, {}}, {180, "plan", false});
    }

    site::Location location;
    site::LocalDate date;
    std::shared_ptr<const study::SharedTrack> shared;
    std::unique_ptr<study::SeasonalStudy> seasons;
};

inline Prepared example(const std::string& name, site::LocalDate on) {
    auto read = read::read_location(std::string{KEYHOUR_LOCATIONS "/"} + name + ".toml");
    REQUIRE(read);
    return Prepared{*std::move(read), on};
}

inline Instant clock(const Prepared& p, int hour) {
    return *p.location.site.zone.instant(date::local_days{p.date} + std::chrono::hours{hour});
}

/// Every kind of drawing of one date.
inline std::vector<std::string> all_drawings(const Prepared& p, double width) {
    const site::Location there = p.there();
    const auto strip = study::day_strip(p.location, p.room(), p.shared, p.date);
    std::vector<Instant> hours;
    if (p.room() != nullptr) hours = study::hours_of_patches(*p.room(), p.date);
    std::vector<std::string> out{
        draw::draw_plan(there, p.room(), {p.date, hours, strip.covers}, {width, "plan", false}).svg,
        draw::draw_strip(there, strip, {width, "strip", false}).svg};
    if (p.room() == nullptr) return out;
    const auto& room = p.room()->room();
    for (std::size_t w = 0; w < room.windows.size(); ++w)
        out.push_back(
            draw::draw_section(*p.room(), {p.date, w, 0, hours, {}}, {width, "section", false}));
    return out;
}

inline bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

inline std::string first_mark_year(const Prepared& p, date::year year) {
    const auto track = study::track_of_year(p.location.site.zone, year);
    const study::SeasonalStudy seasons{p.location, track, year / 1 / 1, year / 12 / 31};
    return draw::draw_year(p.location, study::key_year(seasons, 0, year), {}, {180, "year", false});
}

}  // namespace keyhour::test
