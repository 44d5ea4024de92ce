#pragma once
/// @file
/// One direction from several observations of it, by weighted least squares on the circle.

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace keyhour::study {

/// What an input's standard uncertainty does to an observed direction, degrees, by the input's
/// name. Observations that share an input (one clock, one compass needle) err together.
using Contributions = std::map<std::string, double>;

/// An observed direction: one reading, or several of which one is right.
struct Sighting {
    std::vector<double> readings_deg;  ///< one or more
    Contributions contributions;       ///< not all zero
    [[nodiscard]] double sigma_deg() const noexcept;
};

/// Of a sighting's readings the one nearest to a direction.
[[nodiscard]] double nearest_reading(const Sighting& sighting, double to_deg);

/// One observation beside the fit.
struct Residual {
    double reading_deg = 0;   ///< the reading that was taken, 0..360
    double sigma_deg = 0;     ///< of the observation alone
    double residual_deg = 0;  ///< reading less fit, -180..180
    /// The residual over its own standard deviation (Baarda's w): of those used. Of one left out:
    /// its distance from the fit over the standard deviation of that distance.
    double normalised = 0;
    bool used = true;
};

struct CircleFit {
    double value_deg = 0;  ///< 0..360
    double sigma_deg = 0;  ///< as the stated doubts give it, times `widened`
    double chi_square = 0;
    int freedom = 0;    ///< used observations less one
    double chance = 1;  ///< of a chi-square as large or larger if all doubts are as stated
    /// By how much the stated doubts had to be stretched (Birge's ratio), 1 where they agree.
    double widened = 1;
    std::vector<Residual> residuals;    ///< one an observation
    std::vector<std::size_t> left_out;  ///< do not fit the others, and were not used
    std::vector<std::size_t> suspects;  ///< one of these does not fit, it is not clear which
    std::optional<double> other_deg;    ///< the other value that fits as well
    [[nodiscard]] bool contradicts() const noexcept;
};

/// Below this chance the observations contradict each other and have no common answer.
inline constexpr double contradiction_chance = 1e-5;
/// The risk of suspecting any of a sound set, shared among its observations (Bonferroni).
inline constexpr double false_alarm = 0.05;

/// @param sightings  one or more
/// @param hint_deg   tells apart values that fit equally well: the nearer one is taken
/// An observation is left out if its normalised residual is beyond what chance gives in 5 % of
/// sound sets, at least two and a majority remain, and no other is nearly as likely to be the one.
[[nodiscard]] CircleFit fit_on_circle(const std::vector<Sighting>& sightings, double hint_deg);

/// The value from the sightings named alone, without any test, starting at `near_deg`.
struct PlainFit {
    double value_deg = 0, sigma_deg = 0;
};
[[nodiscard]] PlainFit plain_fit(const std::vector<Sighting>& sightings,
                                 const std::vector<std::size_t>& which, double near_deg);

/// Brought into 0..360, and into -180..180.
[[nodiscard]] double turn_deg(double degrees) noexcept;
[[nodiscard]] double half_turn_deg(double degrees) noexcept;

/// The chance of a chi-square as large or larger.
/// @param freedom  0 or more; of 0 the chi-square is 0
[[nodiscard]] double chi_square_chance(double chi_square, int freedom) noexcept;

}  // namespace keyhour::study
