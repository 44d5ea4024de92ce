#pragma once
/// @file
/// From light to stop and back, the way an incident meter reads.

#include <array>
#include <cstddef>
#include <string_view>

namespace keyhour::light {

/// How the camera is set.
struct Exposure {
    double iso = 800;
    double fps = 25;
    double shutter_deg = 180;  ///< 0 < shutter <= 360
    /// The meter's constant C of ISO 2720 for a flat receptor, lx s: 240..400 (a dome has 320..540;
    /// ranges from memory). 250 because levels here are those of flat planes.
    double meter_constant = 250;
};

/// Whether every number is above zero and finite, and the shutter at most a whole turn. The
/// functions below ask for this.
[[nodiscard]] bool valid(const Exposure& exposure) noexcept;

[[nodiscard]] double exposure_time_s(const Exposure& exposure) noexcept;

/// Exposure value at ISO 100 of an incident level; minus infinity in the dark.
/// Source: ISO 2720:1974.
[[nodiscard]] double ev_at_iso_100(double lx, double meter_constant = 250) noexcept;

/// The T number that a level asks for; 0 in the dark. Source: ISO 2720:1974, N2/t = E S/C.
[[nodiscard]] double t_number(double lx, const Exposure& exposure) noexcept;

/// The level that a T number (> 0) asks for, lx.
[[nodiscard]] double level_for_lx(double t_number, const Exposure& exposure) noexcept;

/// How many stops the first level lies over the second, both above 0.
[[nodiscard]] double stops_between(double lx, double over_lx) noexcept;

/// A T stop in thirds.
struct TStop {
    int thirds = 0;  ///< above T1, of which six make a doubling of the number
    friend constexpr auto operator<=>(TStop, TStop) = default;
};

/// The nearest third; T0.5 less a third and T64 plus one stand for whatever lies beyond.
[[nodiscard]] TStop nearest_t_stop(double t_number) noexcept;
[[nodiscard]] double t_number(TStop stop) noexcept;

/// "T2.8", "T2.8 1/3", "T2.8 2/3"; "below T0.5", "above T64". That thirds are counted up from the
/// whole stop is common practice, no source.
class TStopText {
public:
    explicit TStopText(TStop stop) noexcept;
    [[nodiscard]] std::string_view view() const noexcept { return {text_.data(), size_}; }

private:
    std::array<char, 12> text_{};
    std::size_t size_ = 0;
};

/// Neutral density that brings a level down to the one wanted, in stops; negative: so much is
/// missing. Both above 0.
[[nodiscard]] double nd_stops(double lx, double wanted_lx) noexcept;
/// Density of so many stops: 0.301 each; and back.
[[nodiscard]] double nd_density(double stops) noexcept;
[[nodiscard]] double nd_density_stops(double density) noexcept;
[[nodiscard]] double nd_transmittance(double density) noexcept;

}  // namespace keyhour::light
