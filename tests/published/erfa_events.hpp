#pragma once
/// @file
/// Crossings and transits by root finding on ERFA's sun: slow, by small steps, with no code of the
/// project's own.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "erfa_sun.hpp"
#include "keyhour/sun/time_scales.hpp"

namespace erfa_sun {

struct Event {
    keyhour::Instant at;
    bool upward;
};

/// One place over a range of a few days, sampled every ten minutes and at every turning point of
/// the altitude.
class Days {
public:
    Days(const keyhour::Observer& observer, keyhour::Instant from, keyhour::Instant to)
        : observer_{observer}, from_{from}, to_{to} {
        // One sample more on either side, so that a turning point next to an end is seen.
        const int steps = static_cast<int>(std::ceil((to - from).count() / 600));
        for (int i = -1; i <= steps + 1; ++i)
            samples_.push_back(sample(from + keyhour::Seconds{600.0 * i}));
        std::vector<Sample> turning;
        for (std::size_t i = 0; i + 2 < samples_.size(); ++i) {
            if (turns(i)) turning.push_back(turn(i));
        }
        samples_.insert(samples_.end(), turning.begin(), turning.end());
        samples_.push_back(sample(to));
        std::erase_if(samples_, [&](const Sample& s) { return s.at < from || s.at > to; });
        std::sort(samples_.begin(), samples_.end(), [](auto a, auto b) { return a.at < b.at; });
        deciding_altitudes_ = {samples_.front().altitude, samples_.back().altitude};
        for (const Sample& point : turning)
            deciding_altitudes_.push_back(point.altitude);
    }

    [[nodiscard]] double altitude_rad(keyhour::Instant t) const {
        return sight(t, keyhour::sun::delta_t(t).count(), observer_).altitude_rad();
    }

    /// All crossings of the altitude (radians).
    [[nodiscard]] std::vector<Event> crossings(double altitude) const {
        std::vector<Event> events;
        for (std::size_t i = 1; i < samples_.size(); ++i) {
            const Sample &a = samples_[i - 1], &b = samples_[i];
            const bool was = a.altitude >= altitude, is = b.altitude >= altitude;
            if (was != is) events.push_back({root(a, b, altitude), is});
        }
        return events;
    }

    /// Altitudes of the turning points and of the ends: where a crossing appears or vanishes.
    [[nodiscard]] const std::vector<double>& deciding_altitudes() const {
        return deciding_altitudes_;
    }

    /// Upper transits: the hour angle passes zero.
    [[nodiscard]] std::vector<keyhour::Instant> transits() const {
        std::vector<keyhour::Instant> found;
        for (keyhour::Instant a = from_; a < to_;) {
            keyhour::Instant b = std::min(a + keyhour::Seconds{3 * 3600.0}, to_);
            const double at_a = hour_angle(a), at_b = hour_angle(b);
            if (at_a < 0 && at_b >= 0 && at_b - at_a < 3) {
                keyhour::Instant t = a;
                for (int i = 0; i < 4; ++i) {
                    t = t - keyhour::Seconds{hour_angle(t) * 86400 / (2 * std::numbers::pi)};
                }
                found.push_back(t);
            }
            a = b;
        }
        return found;
    }

private:
    struct Sample {
        keyhour::Instant at;
        double altitude;
    };

    [[nodiscard]] Sample sample(keyhour::Instant t) const { return {t, altitude_rad(t)}; }

    [[nodiscard]] double hour_angle(keyhour::Instant t) const {
        return sight(t, keyhour::sun::delta_t(t).count(), observer_).hour_angle_rad;
    }

    [[nodiscard]] bool turns(std::size_t i) const {
        const double rise = samples_[i + 1].altitude - samples_[i].altitude;
        const double next = samples_[i + 2].altitude - samples_[i + 1].altitude;
        return (rise > 0) != (next > 0);
    }

    /// The turning point between samples i and i + 2, by golden section.
    [[nodiscard]] Sample turn(std::size_t i) const {
        const double sign = samples_[i + 1].altitude > samples_[i].altitude ? 1 : -1;
        const double golden = std::numbers::phi - 1;
        double a = samples_[i].at.unix_s(), b = samples_[i + 2].at.unix_s();
        double c = b - golden * (b - a), d = a + golden * (b - a);
        const auto height = [&](double s) {
            return sign * altitude_rad(keyhour::Instant::from_unix_s(s));
        };
        double at_c = height(c), at_d = height(d);
        while (b - a > 1) {
            if (at_c > at_d) {
                b = d, d = c, at_d = at_c;
                at_c = height(c = b - golden * (b - a));
            } else {
                a = c, c = d, at_c = at_d;
                at_d = height(d = a + golden * (b - a));
            }
        }
        const keyhour::Instant t = keyhour::Instant::from_unix_s(0.5 * (a + b));
        return {t, altitude_rad(t)};
    }

    /// By halving, after secant steps that are kept inside the bracket.
    [[nodiscard]] keyhour::Instant root(Sample a, Sample b, double altitude) const {
        for (int i = 0; i < 80 && (b.at - a.at).count() > 1e-3; ++i) {
            const double share = (altitude - a.altitude) / (b.altitude - a.altitude);
            const double kept = i % 3 == 2 ? 0.5 : std::clamp(share, 1e-4, 1 - 1e-4);
            const keyhour::Instant t = a.at + kept * (b.at - a.at);
            const Sample now{t, altitude_rad(t)};
            ((now.altitude >= altitude) == (a.altitude >= altitude) ? a : b) = now;
        }
        return a.at + 0.5 * (b.at - a.at);
    }

    keyhour::Observer observer_;
    keyhour::Instant from_, to_;
    std::vector<Sample> samples_;
    std::vector<double> deciding_altitudes_;
};

}  // namespace erfa_sun
