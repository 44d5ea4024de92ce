#include "tell/facade_lines.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "keyhour/site/dates.hpp"
#include "tell/cautions.hpp"
#include "words/clock.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
void FacadeDates::add(site::LocalDate date, const study::FacadeLight& light) {
    auto run = std::ranges::find_if(runs_, [&](const Run& r) {
        return r.building == light.building && r.window == light.window;
    });
    if (run == runs_.end()) {
        runs_.push_back({light.building, light.window, light.kind, date, date, 0, 0, {}});
        run = runs_.end() - 1;
    }
    run->last = date;
    ++run->dates;
    if (std::ranges::any_of(light.visits, [](const auto& visit) { return !visit.marks.empty(); }))
        ++run->dates_on_a_mark;
    for (const study::ThrownBack& visit : light.visits)
        if (visit.span.length() > run->longest.length()) run->longest = visit.span;
}

Paragraphs thrown_back(const std::vector<study::FacadeLight>& facades, const room::Room& room,
                       const site::Zone& zone) {
    if (facades.empty()) return {{"thrown back into the room: by no facade of the file"}};
    Paragraphs out;
    bool any_glass = false;
    for (const study::FacadeLight& f : facades) {
        const bool glass = f.kind == room::Facade::Kind::glass;
        any_glass = any_glass || (glass && !f.visits.empty());
        for (const study::ThrownBack& visit : f.visits) {
            std::string text =
                fmt::format("thrown back by {} of {} into {} {}{}", words::in_words(f.kind),
                            room.buildings[f.building].name, room.windows[f.window].name,
                            words::span_outward(visit.span, zone), glass ? "" : ", soft");
            for (const std::size_t mark : visit.marks)
                text += "; REACHES THE MARK " + room.marks[mark].name;
            out.push_back({std::move(text)});
        }
    }
    if (any_glass) out.push_back({glare_caution + std::string{"."}, 0, 0});
    return out;
}

Paragraphs thrown_back(const FacadeDates& facades, const room::Room& room, const site::Zone& zone) {
    if (facades.runs().empty())
        return {{"thrown back into the room: by no facade of the file in this range"}};
    Paragraphs out;
    for (const FacadeDates::Run& run : facades.runs())
        out.push_back({fmt::format(
            "thrown back by {} of {} into {}: on {} dates, {} to {}; longest {} {}{}",
            words::in_words(run.kind), room.buildings[run.building].name,
            room.windows[run.window].name, run.dates, site::iso_date(run.first),
            site::iso_date(run.last), site::iso_date(site::local_date(run.longest.from, zone)),
            words::span_outward(run.longest, zone),
            run.dates_on_a_mark > 0 ? fmt::format("; REACHES A MARK on {}", run.dates_on_a_mark)
                                    : std::string{})});
    return out;
}

}  // namespace keyhour::tell
