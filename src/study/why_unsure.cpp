#include <algorithm>
#include <tuple>

#include "key_doubt_parts.hpp"
#include "keyhour/site/doubts.hpp"

namespace keyhour::study {
namespace {

/// Intervals of a range that are asked again for each input.
constexpr std::size_t most_looked_at = 24;

using KeptHolds = std::vector<std::vector<Seconds>>;

enum class Owner { mark, window, camera, location };

Owner owner(Input input) {
    switch (input) {
        case Input::mark_place:
        case Input::mark_height:
            return Owner::mark;
        case Input::left:
        case Input::width:
        case Input::sill:
        case Input::height:
        case Input::reveal:
            return Owner::window;
        case Input::camera_place:
            return Owner::camera;
        default:
            return Owner::location;
    }
}

/// Of all that stands outside the least known.
double places_outside_within_m(const site::Location& location) {
    double most = 0;
    for (const room::Building& b : site::buildings(location))
        most = std::max(most, site::place_doubt(b, location).within_m);
    for (const site::Tree& t : location.trees)
        most = std::max(most, site::place_doubt(t, location).within_m);
    return most;
}

double within(const site::Location& location, Input input, const InputEffect& of) {
    const site::WindowDoubts w =
        of.window ? site::doubts(location.room->windows[*of.window]) : site::WindowDoubts{};
    const site::MarkDoubts m =
        of.mark ? site::doubts(location.room->marks[*of.mark]) : site::MarkDoubts{};
    switch (input) {
        case Input::mark_place:
            return m.at.within_m;
        case Input::mark_height:
            return m.height.within_m;
        case Input::left:
            return w.left.within_m;
        case Input::width:
            return w.width.within_m;
        case Input::sill:
            return w.sill.within_m;
        case Input::height:
            return w.height.within_m;
        case Input::reveal:
            return w.reveal.within_m;
        case Input::bearing:
            return location.room->bearing.within.in_degrees();
        case Input::skyline:
            return site::horizon_within(location.site).in_degrees();
        case Input::refraction:
            return site::usual_refraction_within;
        case Input::heights_outside:
            return site::usual_building_within;
        case Input::places_outside:
            return places_outside_within_m(location);
        case Input::camera_place:
            return of.camera ? site::doubt(location.room->cameras[*of.camera]).within_m : 0;
        case Input::floor:
            return site::floor_doubt(*location.room).within_m;
        case Input::clock:
            break;
    }
    return site::clock_within_s(location);
}

/// Averages over the intervals that depend on the input.
class Mean {
public:
    Mean(const KeptHolds& now, const KeptHolds& known, std::span<const KeyInterval> intervals)
        : now_{now}, known_{known}, intervals_{intervals} {}

    /// @param effect  its input, mark and window are filled in
    void fill(InputEffect& effect, Seconds doubt_of_all) const {
        double less = 0;
        for (std::size_t i = 0; i < intervals_.size(); ++i) {
            if (effect.mark && intervals_[i].mark != *effect.mark) continue;
            if (effect.window && intervals_[i].window != *effect.window) continue;
            if (effect.camera && intervals_[i].camera != effect.camera) continue;
            ++effect.intervals;
            effect.spread += spread(now_[i]);
            effect.spread_if_known += spread(known_[i]);
            effect.kept_90 += exceeded_in(now_[i], 0.9);
            effect.kept_90_if_known += exceeded_in(known_[i], 0.9);
        }
        less = (effect.spread - effect.spread_if_known).count();
        if (doubt_of_all > Seconds{0}) effect.share = less / doubt_of_all.count();
        const double n = std::max(1.0, static_cast<double>(effect.intervals));
        for (Seconds* sum :
             {&effect.spread, &effect.spread_if_known, &effect.kept_90, &effect.kept_90_if_known})
            *sum /= n;
    }

private:
    const KeptHolds &now_, &known_;
    std::span<const KeyInterval> intervals_;
};

/// Marks or windows that any of the intervals is about, ascending.
std::vector<std::size_t> owners(std::span<const KeyInterval> intervals,
                                std::size_t KeyInterval::*which) {
    std::vector<std::size_t> out;
    for (const KeyInterval& k : intervals)
        out.push_back(k.*which);
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

std::vector<std::size_t> cameras(std::span<const KeyInterval> intervals) {
    std::vector<std::size_t> out;
    for (const KeyInterval& k : intervals)
        if (k.camera) out.push_back(*k.camera);
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

std::vector<InputEffect> parts_of(Input input, std::span<const KeyInterval> intervals) {
    std::vector<InputEffect> out;
    InputEffect effect;
    effect.input = input;
    switch (owner(input)) {
        case Owner::mark:
            for (const std::size_t mark : owners(intervals, &KeyInterval::mark)) {
                effect.mark = mark;
                out.push_back(effect);
            }
            break;
        case Owner::window:
            for (const std::size_t window : owners(intervals, &KeyInterval::window)) {
                effect.window = window;
                out.push_back(effect);
            }
            break;
        case Owner::camera:
            for (const std::size_t camera : cameras(intervals)) {
                effect.camera = camera;
                out.push_back(effect);
            }
            break;
        case Owner::location:
            out.push_back(effect);
            break;
    }
    return out;
}

bool is_of_same(const KeyInterval& a, const KeyInterval& b) {
    return std::tie(a.mark, a.window, a.camera) == std::tie(b.mark, b.window, b.camera);
}

/// Of each window, mark and camera some intervals, spread evenly over the dates. Of each a member's
/// run near by is sampled, which costs a hundredth of its regions over a year.
std::vector<AskedKey> spread_over_dates(const AskedKey& key, std::size_t at_most) {
    std::vector<KeyInterval> sorted = key.intervals;
    std::stable_sort(sorted.begin(), sorted.end(), [](const KeyInterval& a, const KeyInterval& b) {
        return std::tie(a.mark, a.window, a.camera, a.possible.from) <
               std::tie(b.mark, b.window, b.camera, b.possible.from);
    });
    std::vector<std::size_t> firsts;  // of each subject, and the end
    for (std::size_t i = 0; i < sorted.size(); ++i)
        if (i == 0 || !is_of_same(sorted[i - 1], sorted[i])) firsts.push_back(i);
    firsts.push_back(sorted.size());
    const std::size_t subjects = firsts.size() - 1;
    std::vector<AskedKey> out;
    for (std::size_t s = 0; s < subjects; ++s) {
        const std::size_t n = firsts[s + 1] - firsts[s];
        const std::size_t wanted = std::min(n, std::max<std::size_t>(1, at_most / subjects));
        for (std::size_t i = 0; i < wanted; ++i) {
            const KeyInterval& k = sorted[firsts[s] + (2 * i + 1) * n / (2 * wanted)];
            out.push_back({key.study, k.possible.from, k.possible.to, {k}});
        }
    }
    return out;
}

/// What is asked again with each input: all of it, or of many intervals some.
std::vector<AskedKey> looked_at(std::span<const AskedKey> asked) {
    std::size_t all = 0;
    for (const AskedKey& key : asked)
        all += key.intervals.size();
    if (all <= most_looked_at) return {asked.begin(), asked.end()};
    std::vector<AskedKey> out;
    for (const AskedKey& key : asked)
        for (AskedKey& part : spread_over_dates(key, most_looked_at * key.intervals.size() / all))
            out.push_back(std::move(part));
    return out;
}

}  // namespace

std::vector<InputEffect> why_unsure(std::span<const AskedKey> all_asked,
                                    const KeySettings& settings, const EnsembleSettings& ensemble) {
    const std::vector<AskedKey> asked = looked_at(all_asked);
    std::vector<KeyInterval> intervals;
    for (const AskedKey& key : asked)
        intervals.insert(intervals.end(), key.intervals.begin(), key.intervals.end());
    std::vector<InputEffect> out;
    if (intervals.empty()) return out;
    const site::Location& location = asked.front().study->location();
    const auto kept_with = [&](const DoubtScale& scale) {
        EnsembleSettings scaled = ensemble;
        scaled.scale = scale;
        const std::vector<Draw> members = draws(scaled);
        KeptHolds kept;
        for (const AskedKey& key : asked)
            for (auto& of_interval :
                 kept_parts(*key.study, key.from, key.to, settings, key.intervals, members))
                kept.push_back(std::move(of_interval));
        return kept;
    };
    const KeptHolds now = kept_with(ensemble.scale);
    Seconds doubt_of_all{0};
    for (const auto& kept : now)
        doubt_of_all += spread(kept);
    for (std::size_t i = 0; i < input_count; ++i) {
        const Input input = static_cast<Input>(i);
        if (!in_doubt(location, input)) continue;
        DoubtScale scale = ensemble.scale;
        scale[i] = 0;
        const KeptHolds known = kept_with(scale);
        const Mean mean{now, known, intervals};
        for (InputEffect& effect : parts_of(input, intervals)) {
            effect.within = within(location, input, effect);
            if (!(effect.within > 0)) continue;
            mean.fill(effect, doubt_of_all);
            out.push_back(effect);
        }
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const InputEffect& a, const InputEffect& b) { return a.share > b.share; });
    return out;
}

}  // namespace keyhour::study
