#include "keyhour/study/lamp_output.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "radians.hpp"
#include "room/vectors.hpp"

namespace keyhour::study {

using room::Point3;

namespace {

/// What a measured lamp sends into a cone about its axis, lm: a sum over rings and spokes.
double lumens_within(const light::CandelaGrid& grid, double half_angle) {
    constexpr int rings = 90, spokes = 72;
    double sum = 0;
    for (int i = 0; i < rings; ++i) {
        const double from = half_angle * i / rings, to = half_angle * (i + 1) / rings;
        const double solid_angle = 2 * pi * (std::cos(from) - std::cos(to)) / spokes;
        for (int k = 0; k < spokes; ++k)
            sum += solid_angle * grid.candela(Angle::radians((from + to) / 2),
                                              Angle::degrees(360.0 * (k + 0.5) / spokes));
    }
    return sum;
}

/// The same frame before a measured lamp as light::diffused puts before a beam.
light::SoftFace diffused(const light::CandelaGrid& grid, const light::Diffusion& frame) {
    const double caught = lumens_within(grid, std::atan2(frame.diameter_m / 2, frame.distance_m));
    return {frame.transmittance * caught / pi, frame.diameter_m};
}

/// What shines: the diffusion where there is one.
LampOutput::Source source_of(const site::Lamp& lamp) {
    if (const auto* sheet = std::get_if<light::DataSheet>(&lamp.photometry)) {
        light::DataSheet with_face = *sheet;
        with_face.face_diameter_m = lamp.face_diameter_m;
        const light::LampBeam beam{with_face};
        if (lamp.diffusion) return light::diffused(beam, *lamp.diffusion);
        return beam;
    }
    if (const auto* measured = std::get_if<site::MeasuredIntensity>(&lamp.photometry)) {
        const light::CandelaGrid grid{measured->view()};
        if (lamp.diffusion) return diffused(grid, *lamp.diffusion);
        return grid;
    }
    return light::downlight(std::get<site::Lumens>(lamp.photometry).lm, lamp.face_diameter_m);
}

}  // namespace

LampOutput::LampOutput(const site::Lamp& lamp)
    : source_{source_of(lamp)},
      face_{lamp.diffusion ? lamp.diffusion->diameter_m : lamp.face_diameter_m},
      can_be_aimed_{!std::holds_alternative<site::Lumens>(lamp.photometry)} {}

double LampOutput::candela(const LampPose& pose, Point3 toward) const {
    const double cosine = std::clamp(dot(toward, pose.axis) / norm(toward), -1.0, 1.0);
    const Angle off_axis = Angle::radians(std::acos(cosine));
    if (const auto* beam = std::get_if<light::LampBeam>(&source_)) return beam->candela(off_axis);
    if (const auto* face = std::get_if<light::SoftFace>(&source_))
        return face->candela * std::max(cosine, 0.0);
    // Level and to the right as the lamp looks; straight up or down: the plan's x.
    Point3 right = cross3(pose.axis, {0, 0, 1});
    if (norm(right) < 1e-9) right = {1, 0, 0};
    const Point3 up = cross3(right, pose.axis);
    return std::get<light::CandelaGrid>(source_).candela(
        off_axis, Angle::radians(std::atan2(dot(toward, up), dot(toward, right))));
}

double LampOutput::level_lx(const LampPose& pose, Point3 at, double cos_incidence) const {
    const Point3 ray = at - pose.at;
    const double distance = norm(ray);
    if (distance <= 0) return 0;
    const double cosine = std::clamp(dot(ray, pose.axis) / distance, -1.0, 1.0);
    if (const auto* beam = std::get_if<light::LampBeam>(&source_))
        return beam->level_lx(distance, Angle::radians(std::acos(cosine)), cos_incidence);
    if (const auto* face = std::get_if<light::SoftFace>(&source_))
        return face->level_lx(distance, cosine, cos_incidence);
    return light::point_source_lx(candela(pose, ray), distance, cos_incidence);
}

std::optional<double> LampOutput::distance_for_m(double level_lx) const {
    double distance = 0;
    if (const auto* beam = std::get_if<light::LampBeam>(&source_)) {
        distance = beam->distance_for_m(level_lx);
    } else if (const auto* face = std::get_if<light::SoftFace>(&source_)) {
        // I / (r2 + D2/4) = E
        const double square = face->candela / level_lx - face->diameter_m * face->diameter_m / 4;
        distance = square > 0 ? std::sqrt(square) : 0;
    } else {
        distance = std::sqrt(axis_candela() / level_lx);
    }
    if (!(distance > 0)) return std::nullopt;
    return distance;
}

double LampOutput::axis_candela() const {
    if (const auto* beam = std::get_if<light::LampBeam>(&source_)) return beam->peak_candela();
    if (const auto* face = std::get_if<light::SoftFace>(&source_)) return face->candela;
    return std::get<light::CandelaGrid>(source_).candela({}, {});
}

double LampOutput::lumens() const {
    if (const auto* beam = std::get_if<light::LampBeam>(&source_)) return beam->lumens();
    if (const auto* face = std::get_if<light::SoftFace>(&source_)) return pi * face->candela;
    return std::get<light::CandelaGrid>(source_).lumens();
}

}  // namespace keyhour::study
