#pragma once
/// @file
/// From an observation to the bearing that it gives the plan, and how each input's doubt moves it.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "keyhour/study/circle_fit.hpp"
#include "keyhour/study/observation.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

/// The figures that go into one observation. The model asks for each by name; moving one of them by
/// its own standard uncertainty shows what it does to the answer.
class Inputs {
public:
    /// @param owner  distinguishes this observation's own inputs from those of others
    explicit Inputs(std::string owner) : owner_{std::move(owner)} {}

    /// An input of this observation alone, its value 0 or as given.
    double own(const std::string& name, double sigma, double value = 0) {
        return take(owner_ + ' ' + name, sigma, value);
    }
    /// An input that it shares with others of the same name.
    double shared(const std::string& name, double sigma, double value = 0) {
        return take(name, sigma, value);
    }
    /// Sets one input off by so much from now on.
    void move(const std::string& name, double by) {
        moved_ = name;
        by_ = by;
    }
    /// All inputs that were asked for, with their standard uncertainties.
    [[nodiscard]] const std::map<std::string, double>& sigmas() const noexcept { return sigmas_; }

private:
    double take(const std::string& name, double sigma, double value) {
        sigmas_[name] = sigma;
        return name == moved_ ? value + by_ : value;
    }

    std::string owner_, moved_;
    double by_ = 0;
    std::map<std::string, double> sigmas_;
};

/// Own inputs of an observation are named after its place in the list: names may stand twice.
[[nodiscard]] inline std::string owner_of(std::size_t index) {
    return '#' + std::to_string(index);
}

/// Name of the input that all timed observations share, seconds.
inline const std::string clock_input = "clock";

/// What a patch corner says about heights: the sun's altitude that it shows.
struct SeenAltitude {
    double measured_deg;  ///< from sill or head and the corner
    double sun_deg;       ///< apparent, at the time stated
    double run_m;         ///< level distance from the corner to the edge that cast it
    double edge_m;        ///< height of that edge
};

struct Seen {
    std::vector<double> plan_bearing_deg;  ///< of the plan's +y axis; one or two
    std::optional<SeenAltitude> altitude;
};

class ObservationModel {
public:
    /// @pre `room` and `path` outlive this; the path covers the observations and a day around them
    ObservationModel(const room::Room& room, const SunPath& path, double clock_within_s)
        : room_{room}, path_{path}, clock_within_s_{clock_within_s} {}

    /// The bearing of the plan with the inputs as they are.
    [[nodiscard]] Seen see(const Observation& observation, Inputs& inputs) const;

    /// The same as a sighting, every input moved both ways by its standard uncertainty.
    [[nodiscard]] Sighting sighting(const Observation& observation, const std::string& owner) const;

    /// The same of a corner's height: how far above the computed sun the sun that it shows stands.
    [[nodiscard]] std::optional<Sighting> height(const Observation& observation,
                                                 const std::string& owner) const;

    /// What is wrong with it before anything is computed: sun down, points too close, corner
    /// outside the room.
    [[nodiscard]] std::optional<std::string> fault(const Observation& observation) const;

    /// Where the wall faces, clockwise from the plan's +y axis.
    [[nodiscard]] double wall_from_y_deg(std::size_t wall) const;

    [[nodiscard]] const room::Room& room() const noexcept { return room_; }
    [[nodiscard]] const SunPath& path() const noexcept { return path_; }
    [[nodiscard]] double azimuth_deg(Instant t) const;
    /// By so much the sun's azimuth grows in a minute then.
    [[nodiscard]] double azimuth_rate_deg(Instant t) const;

private:
    struct Maker;
    const room::Room& room_;
    const SunPath& path_;
    double clock_within_s_;
};

}  // namespace keyhour::study
