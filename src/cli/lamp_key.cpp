#include "lamp_key.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "keyhour/ask/lamp.hpp"
#include "keyhour/site/dates.hpp"
#include "lamp_window.hpp"
#include "tell/room_documents.hpp"
#include "tell/sun_free_page.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

/// A window that is asked for, and that no lamp could shine through.
std::optional<Failure> closed_to_lamps(const RoomQuestion& q, const study::LampSettings& lamp) {
    const room::Room& room = *q.location.room;
    if (auto hung = all_windows_hung(room)) return hung;
    if (!lamp.window) return std::nullopt;
    const auto at = [](const auto& things, const std::string& name) {
        const auto found =
            std::ranges::find_if(things, [&](const auto& thing) { return thing.name == name; });
        return static_cast<std::size_t>(found - things.begin());
    };
    const std::size_t window = at(room.windows, *lamp.window);
    if (auto hung = hung_key_window("--window", room, window)) return hung;
    return lamp.mark ? no_line_to_mark(q.study(), window, at(room.marks, *lamp.mark))
                     : std::nullopt;
}

tell::Json choice_json(const study::LampChoice& choice, const study::RoomStudy& study,
                       double overlap_m) {
    tell::Json j = tell::json_of(choice.span, study);
    j["covers"] = tell::json_of(choice.span.covers, study, overlap_m);
    j["lock"] = nullptr;
    if (!choice.lock) return j;
    const tell::Json lock = tell::json_of(*choice.lock, study, overlap_m);
    j["lock"] = lock["lock"];
    j["lock"]["covers"] = lock["covers"];
    return j;
}

/// Hours that a change of clocks skips or repeats on one of the dates.
std::optional<Failure> unclear_hours(const RoomQuestion& q, const study::LampSettings& lamp) {
    for (site::LocalDate d = q.dates.first; d <= q.dates.last; d = site::next_day(d))
        for (const auto& hour : {lamp.earliest, lamp.latest}) {
            if (!hour) continue;
            const auto whole = std::chrono::duration_cast<std::chrono::seconds>(*hour);
            const auto at = q.location.site.zone.instant(date::local_days{d} + whole);
            if (!at) return Failure{wrong_usage, "--hours: " + at.error().message};
        }
    return std::nullopt;
}

}  // namespace

std::optional<Failure> no_lamp_answer(const RoomQuestion& q, const study::LampSettings& lamp) {
    if (auto unclear = unclear_hours(q, lamp)) return unclear;
    return closed_to_lamps(q, lamp);
}

int answer_by_lamp(const RoomQuestion& q, const LampKeyRequest& request, std::ostream& out) {
    const bool page = !request.json && !request.line;
    const tell::LampKeyQuestion told{q.location,       q.recce,           told_dates(q.dates),
                                     request.settings, request.overlap_m, request.all,
                                     request.show};
    tell::Json head = tell::start_document(q.location, q.read_back());
    head["by"] = "lamp";
    head["lock_min"] = tell::rounded(request.settings.lock.count() / 60);
    tell::DaysWriter document{out, head, q.dates.is_range};
    if (page) print(out, tell::sun_free_head(told));
    ask::LampKeys keys{q};
    const study::Edges edges =
        request.json || (page && !q.dates.is_range) ? study::Edges::named : study::Edges::left_out;
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        const study::RoomStudy& study = q.study_on(d);
        const auto choices = keys.on(d, request.settings, edges);
        if (request.json) {
            tell::Json day;
            day["date"] = site::iso_date(d);
            day["intervals"] = tell::Json::array();
            for (const study::LampChoice& choice : choices)
                day["intervals"].push_back(choice_json(choice, study, told.overlap_m));
            document.add(day);
        } else if (request.line) {
            for (const std::string& line : tell::sun_free_messages(choices, told, study))
                out << line << '\n';
        } else {
            study::LampSettings shorter = request.settings;
            shorter.lock = Seconds{60};
            const bool misses = !q.dates.is_range || choices.empty();
            print(out, tell::sun_free_date({choices, misses ? keys.on(d, shorter, edges) : choices},
                                           told, study, d));
        }
    }
    if (request.json) document.finish();
    if (!page) return answered;
    print(out, tell::sun_free_foot(q.location));
    if (request.show.has(tell::Detail::readback))
        print(out, tell::paragraphs(q.read_back(q.recce.units)));
    return answered;
}

}  // namespace keyhour::cli
