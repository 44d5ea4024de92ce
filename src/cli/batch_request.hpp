#pragma once
// What is asked about many places: the options as typed, and the question that they make.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "change_option.hpp"
#include "date_list.hpp"
#include "failure.hpp"
#include "keyhour/site/lock_plan.hpp"
#include "keyhour/study/best_key.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/spot_light.hpp"
#include "keyhour/study/visit.hpp"

namespace keyhour::cli {

struct BatchRequest {
    std::vector<std::string> inputs;
    ChangeOption what_if;
    DateListOptions dates;
    std::string ask = "key", per = "date";
    std::optional<double> min_hold_min, min_sure_min, min_level_lx, coverage_percent, near_m;
    std::string key_angle, altitude, earliest_start, latest_end, late_light;
    std::optional<double> lock_min;
    std::string hours, key_window;
    bool as_is = false, recursive = false;
    bool only_fitting = false, all = false;
    std::optional<int> best;
    bool compare = false, visit = false;
    std::optional<double> speed_kmh, detour, setup_min;
    bool csv = false, json = false, no_header = false;
    std::string out;
    bool resume = false, force = false;
    int threads = 0;  // as many as the machine has
};

enum class BatchForm { table, csv, json };

/// What the options settle of every place's lock; the rest is as its file says.
struct LockWish {
    std::optional<std::chrono::seconds> length;
    std::optional<site::WorkingHours> hours;
    std::string key_window;
};

/// Checked. The same for every place, read by all threads.
struct BatchQuestion {
    enum class Ask { key, exterior, day, lock } ask = Ask::key;
    BatchForm form = BatchForm::table;
    std::vector<site::LocalDate> dates;
    read::Changes changes;  // to every place
    bool per_range = false;
    study::KeySettings key;
    study::KeyCriteria criteria;
    LockWish lock;
    study::LateLightBand band;
    study::SpotSettings spot;
    study::VisitSettings visit;
    bool with_header = true;
    bool only_fitting = false, all = false, is_ranking = false;
    std::shared_ptr<const study::SharedTrack> track;
    std::uint64_t digest = 0;  // of all that shapes a line

    /// Dates are worked through in parts, so that one place's answer takes no more memory.
    [[nodiscard]] std::size_t parts() const;
};

[[nodiscard]] Answer<BatchQuestion> read_question(const BatchRequest& request);

}  // namespace keyhour::cli
