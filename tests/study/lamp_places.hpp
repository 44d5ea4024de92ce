#pragma once
/// @file
/// Places for recorded answers: the examples with lamps of every kind, and sites without a room.

#include <string>
#include <utility>
#include <vector>

#include "flax_road.hpp"
#include "support/random_location.hpp"

namespace keyhour::study {

/// The example of this path below locations/.
inline site::Location place_read(const std::string& name) {
    auto read = read::read_location(std::string{KEYHOUR_LOCATIONS "/"} + name + ".toml");
    if (!read) throw std::runtime_error{name + " is not sound"};
    return *std::move(read);
}

/// So many degrees north and east, at this clock.
inline site::Location place_at(double north_deg, double east_deg, const char* zone,
                               std::vector<site::HorizonPoint> horizon = {}) {
    site::Location l;
    l.site.observer = {Angle::degrees(north_deg), Angle::degrees(east_deg), 0};
    l.site.zone = site::Zone::named(zone).value();
    l.site.horizon = site::Horizon{std::move(horizon)};
    return l;
}

inline site::HorizonPoint skyline_point(double azimuth_deg, double altitude_deg) {
    return {Angle::degrees(azimuth_deg), Angle::degrees(altitude_deg)};
}

/// Intensities that change all round: brightest on the axis, and on one side.
inline site::MeasuredIntensity lopsided_intensity() {
    site::MeasuredIntensity m;
    m.vertical_deg = {0, 10, 30, 60, 90};
    m.horizontal_deg = {0, 90, 180, 270, 360};
    for (std::size_t h = 0; h < m.horizontal_deg.size(); ++h)
        for (const double v : m.vertical_deg)
            m.candela.push_back(v == 0 ? 9000 : (90 - v) * (70 + 9 * static_cast<double>(h % 4)));
    m.multiplier = 1.5;
    return m;
}

/// Lamps by data sheet, with a second reading, through cloth, measured, measured through cloth, and
/// by lumens alone; the fourth and the last stand inside.
inline std::vector<site::Lamp> lamps_of_every_kind() {
    using Place = site::Lamp::Place;
    const light::DataSheet sheet{{12000, 5}, Angle::degrees(24), Angle::degrees(42), {}, 0.3};
    light::DataSheet lens = sheet;
    lens.second_reading = light::SheetReading{3300, 10};
    const auto lamp = [](const char* name, Place place, auto photometry) {
        site::Lamp l;
        l.name = name;
        l.place = place;
        l.photometry = photometry;
        l.face_diameter_m = 0.3;
        l.kelvin = 3200;
        l.stand_max_m = 3.6;
        return l;
    };
    std::vector<site::Lamp> all{
        lamp("sheet", Place::outside, sheet),
        lamp("lens", Place::outside, lens),
        lamp("cloth", Place::outside, sheet),
        lamp("panel", Place::inside,
             light::DataSheet{{1100, 1}, Angle::degrees(95), Angle::degrees(140), {}, 0.3}),
        lamp("measured", Place::outside, lopsided_intensity()),
        lamp("measured cloth", Place::outside, lopsided_intensity()),
        lamp("street", Place::outside, site::Lumens{4200}),
        lamp("bulb", Place::inside, site::Lumens{900})};
    all[2].diffusion = light::Diffusion{0.5, 1.2, 0.8};
    all[5].diffusion = light::Diffusion{0.6, 0.9, 0.7};
    all[4].stand_max_m.reset();
    all[7].diffusion = light::Diffusion{0.7, 0.5, 0.4};
    return all;
}

/// A room thrown at random, with those lamps.
inline site::Location random_place(std::uint64_t seed) {
    test::Dice dice{seed};
    site::Location l = test::random_location(dice);
    l.lamps = lamps_of_every_kind();
    return l;
}

}  // namespace keyhour::study
