#include "keyhour/ask/recce.hpp"

#include <algorithm>

#include "keyhour/ask/key.hpp"
#include "keyhour/site/doubts.hpp"

namespace keyhour::ask {
namespace {

using study::Input;

/// Enough to rank by.
constexpr study::EnsembleSettings recce_ensemble{32, 1, study::whole_doubt};

/// Is it something that one can measure on a recce?
bool is_measurable(Input input) {
    return input != Input::clock && input != Input::refraction;
}

bool is_range(const study::InputEffect& e, const room::Room& room) {
    const auto wide = [&](const std::optional<double>& within) {
        constexpr double not_taped_m = 0.03;
        return within && *within > not_taped_m;
    };
    switch (e.input) {
        case Input::left:
            return wide(room.windows[*e.window].within.left_m);
        case Input::width:
            return wide(room.windows[*e.window].within.width_m);
        case Input::sill:
            return wide(room.windows[*e.window].within.sill_m);
        case Input::height:
            return wide(room.windows[*e.window].within.height_m);
        case Input::reveal:
            return wide(room.windows[*e.window].within.reveal_m);
        case Input::mark_height:
            return wide(room.marks[*e.mark].within.height_m);
        default:
            return false;
    }
}

std::vector<NotInFile> missing(const site::Location& location) {
    const room::Room& room = *location.room;
    std::vector<NotInFile> out;
    if (room.marks.empty()) out.push_back(NotInFile::mark);
    if (room.windows.empty()) out.push_back(NotInFile::window);
    if (room.cameras.empty()) out.push_back(NotInFile::camera);
    if (location.site.horizon.is_level()) out.push_back(NotInFile::skyline);
    if (room.buildings.empty() && location.trees.empty()) out.push_back(NotInFile::outside);
    if (room.bearing.magnetic) out.push_back(NotInFile::true_bearing);
    return out;
}

/// Of so many rooms within the doubts, how many have a clean key on the dates?
int rooms_with_key(const RoomQuestion& q, const study::KeySettings& wanted) {
    const study::ScrambledSobol point{recce_ensemble.seed};
    int found = 0;
    for (int i = 0; i < RecceAnswer::rooms_tried; ++i) {
        const study::Draw draw{point(static_cast<std::uint32_t>(i)), study::whole_doubt};
        const bool any = std::ranges::any_of(q.seasons->stretches(), [&](const auto& season) {
            const site::Location there = study::moved(season->location, draw);
            const study::RoomStudy room{there, season->study.path().shared()};
            return !study::clean_key(room, q.start_of(season->season.first),
                                     q.end_of(season->season.last), wanted)
                        .empty();
        });
        if (any) ++found;
    }
    return found;
}

/// What the file gives as wide ranges, where nothing can be ranked.
std::vector<RecceStep> unmeasured(const room::Room& room) {
    std::vector<RecceStep> out;
    const auto add = [&](Input input, std::optional<std::size_t> mark,
                         std::optional<std::size_t> window, const std::optional<double>& within) {
        study::InputEffect effect;
        effect.input = input;
        effect.mark = mark;
        effect.window = window;
        effect.within = within.value_or(0);
        if (is_range(effect, room)) out.push_back({effect, true});
    };
    for (std::size_t w = 0; w < room.windows.size(); ++w) {
        const room::WindowDoubt& d = room.windows[w].within;
        add(Input::sill, std::nullopt, w, d.sill_m);
        add(Input::height, std::nullopt, w, d.height_m);
        add(Input::reveal, std::nullopt, w, d.reveal_m);
        add(Input::left, std::nullopt, w, d.left_m);
        add(Input::width, std::nullopt, w, d.width_m);
    }
    for (std::size_t m = 0; m < room.marks.size(); ++m)
        add(Input::mark_height, m, std::nullopt, room.marks[m].within.height_m);
    return out;
}

void rank(const RoomQuestion& question, RecceAnswer& answer) {
    KeyRequest request;
    request.ensemble = recce_ensemble;
    request.doubts = request.why_unsure = true;
    const KeyAnswer keys = key(question, request);
    const room::Room& room = *question.location.room;
    answer.intervals = keys.intervals.size();
    if (keys.intervals.empty()) {
        answer.rooms_with_key = rooms_with_key(question, {});
        answer.steps = unmeasured(room);
        return;
    }
    const double n = static_cast<double>(answer.intervals);
    for (std::size_t i = 0; i < answer.intervals; ++i) {
        answer.hold += keys.intervals[i].hold() / n;
        answer.hold_90 += keys.doubts[i].hold_90 / n;
    }
    for (const study::InputEffect& effect : keys.why)
        if (is_measurable(effect.input)) answer.steps.push_back({effect, is_range(effect, room)});
}

}  // namespace

std::optional<RecceAnswer> recce(const site::Location& location, const DateRange& dates) {
    RecceAnswer answer;
    answer.dates = dates;
    answer.missing = missing(location);
    if (location.room->marks.empty() || location.room->windows.empty()) return answer;
    const auto question = RoomQuestion::prepare(location, dates);
    if (!question) return std::nullopt;
    rank(*question, answer);
    return answer;
}

}  // namespace keyhour::ask
