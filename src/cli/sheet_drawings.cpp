#include "sheet_drawings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "clock_time.hpp"
#include "draw/plan_drawing.hpp"
#include "draw/section_drawing.hpp"
#include "draw/strip_drawing.hpp"
#include "draw/year_drawing.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/sheet_day.hpp"
#include "keyhour/study/year_key.hpp"
#include "read/location_file.hpp"
#include "shown_names.hpp"
#include "units_option.hpp"

namespace keyhour::cli {
namespace {

class SheetMaker {
public:
    /// @param names_only  draw nothing: the names of the files are wanted
    SheetMaker(const SheetQuestion& q, const SheetWishes& wishes, bool names_only = false)
        : q_{q}, wishes_{wishes}, names_only_{names_only} {}

    Answer<std::vector<SheetFile>> draw();
    Answer<std::vector<Instant>> hours(const study::DayStrip& strip) {
        if (const auto failure = read_wishes()) return tl::unexpected{*failure};
        return hours_on(strip);
    }

private:
    [[nodiscard]] bool wants(const char* kind) const { return cli::wants(wishes_, kind); }
    [[nodiscard]] std::optional<Failure> read_wishes();
    [[nodiscard]] Answer<std::vector<Instant>> hours_on(const study::DayStrip& strip) const;
    [[nodiscard]] std::optional<Failure> draw_date(site::LocalDate date);
    void draw_sections(const study::RoomStudy& study, const study::DayStrip& strip);
    [[nodiscard]] std::string draw_section_of(const study::RoomStudy& study,
                                              const study::DayStrip& strip, std::size_t w,
                                              std::size_t m) const;
    [[nodiscard]] std::optional<Failure> draw_years();
    [[nodiscard]] draw::DrawingFrame frame(const std::string& name) const {
        return {wishes_.width_mm, name, wishes_.in_page, q_.units};
    }
    /// A section's words need a phone's width, whatever its letters.
    [[nodiscard]] draw::DrawingFrame section_frame() const {
        draw::DrawingFrame own = frame("section");
        own.width_mm = std::max(own.width_mm, draw::phone_width_mm);
        return own;
    }
    void add(std::string name, std::string svg);

    const SheetQuestion& q_;
    const SheetWishes& wishes_;
    bool names_only_;
    std::optional<std::size_t> window_, mark_;
    std::vector<ClockTime> hours_;
    std::vector<SheetFile> files_;
    std::set<std::string> names_;
};

/// Two names may come out the same as words of a file's name: the later one is numbered.
void SheetMaker::add(std::string name, std::string svg) {
    std::string unique = name;
    for (int i = 2; !names_.insert(unique).second; ++i)
        unique = fmt::format("{}-{}", name, i);
    files_.push_back({unique + ".svg", std::move(svg)});
}

std::optional<Failure> SheetMaker::read_wishes() {
    for (const std::string& kind : wishes_.only)
        if (std::ranges::find(sheet_kinds, kind) == sheet_kinds.end())
            return Failure{wrong_usage, fmt::format("--only \"{}\": accepted: {}", kind,
                                                    fmt::join(sheet_kinds, ", "))};
    const double narrowest = wishes_.in_page ? draw::large_letters_width_mm : draw::phone_width_mm;
    if (!(wishes_.width_mm >= narrowest && wishes_.width_mm <= 1000))
        return Failure{wrong_usage, fmt::format("--width {:g}: accepted: {:g} to 1000 mm",
                                                wishes_.width_mm, narrowest)};
    for (std::size_t at = 0; at < wishes_.hours.size();) {
        const std::size_t end = std::min(wishes_.hours.find(',', at), wishes_.hours.size());
        const auto time = read_clock_time(wishes_.hours.substr(at, end - at));
        if (!time) return Failure{wrong_usage, "--hours: " + time.error()};
        hours_.push_back(*time);
        at = end + 1;
    }
    if (hours_.size() > draw::most_plan_hours)
        return Failure{wrong_usage,
                       fmt::format("--hours: {} hatches can be told apart, {} times given",
                                   draw::most_plan_hours, hours_.size())};
    if (!q_.seasons) {
        if (!wishes_.window.empty() || !wishes_.mark.empty())
            return Failure{wrong_usage, "--window and --mark: the location has no [room]"};
        return std::nullopt;
    }
    const room::Room& room = *q_.location.room;
    const auto window = index_of("--window", wishes_.window, room.windows);
    const auto mark = index_of("--mark", wishes_.mark, room.marks);
    for (const auto* one : {&window, &mark})
        if (!*one) return one->error();
    window_ = *window;
    mark_ = *mark;
    return std::nullopt;
}

Answer<std::vector<Instant>> SheetMaker::hours_on(const study::DayStrip& strip) const {
    const study::RoomStudy* study = q_.study_on(strip.date);
    if (study == nullptr) return std::vector<Instant>{};
    // A plan of a lock shows the lamp's light, and the sun's where that is a key too.
    if (hours_.empty() && strip.planned && !study::best_key(strip)) return std::vector<Instant>{};
    if (hours_.empty()) return study::plan_hours(*study, strip.date, strip.keys);
    std::vector<Instant> out;
    for (const ClockTime& hour : hours_) {
        const auto t = hour.on(strip.date, q_.location.site.zone);
        if (!t) return usage_failure("--hours: " + t.error());
        out.push_back(*t);
    }
    return out;
}

/// At start, middle and end of the window's longest key, else at hours at which the sun is in.
std::string SheetMaker::draw_section_of(const study::RoomStudy& study, const study::DayStrip& strip,
                                        std::size_t w, std::size_t m) const {
    const auto& planned = strip.planned;
    draw::SectionContent content{
        strip.date, w, m, {}, draw::stands_of(draw::with_key_lamp(q_.location, strip))};
    if (planned && planned->question.window == w && planned->question.mark == m) {
        draw::show_lock(*planned, content);
        return draw_section(study, content, section_frame());
    }
    for (const study::KeyInterval& k : strip.keys)
        if (k.window == w && k.mark == m && k.span && content.instants.empty())
            content.instants = study::minutes_of_hold(*k.span);
    if (content.instants.empty())
        content.instants = study::hours_of_sun(strip.windows[w], q_.location.site.zone);
    return draw_section(study, content, section_frame());
}

/// Of each window with a straight line to a mark.
void SheetMaker::draw_sections(const study::RoomStudy& study, const study::DayStrip& strip) {
    const room::Room& room = study.room();
    for (std::size_t w = 0; w < room.windows.size(); ++w)
        for (std::size_t m = 0; m < room.marks.size(); ++m) {
            if ((window_ && *window_ != w) || (mark_ && *mark_ != m)) continue;
            if (!window_ && !study::lets_sun_in(room.windows[w])) continue;
            if (!study.scene().faces(w, m)) continue;
            std::string name = fmt::format("section-{}-{}", draw::file_word(room.windows[w].name),
                                           draw::file_word(room.marks[m].name));
            if (q_.dates.is_range) name += "-" + site::iso_date(strip.date);
            add(name, names_only_ ? std::string{} : draw_section_of(study, strip, w, m));
        }
}

std::optional<Failure> SheetMaker::draw_date(site::LocalDate date) {
    const study::RoomStudy* study = q_.study_on(date);
    const site::Location there =
        study != nullptr ? study->location() : site::in_season(q_.location, date);
    study::DayStrip none;
    none.date = date;
    const study::DayStrip& strip = names_only_ ? none : q_.strip_on(date);
    const std::string suffix = q_.dates.is_range ? "-" + site::iso_date(date) : "";
    const auto drawn = [&](const auto& draw) { return names_only_ ? std::string{} : draw(); };
    if (wants("plan")) {
        const auto hours =
            names_only_ ? Answer<std::vector<Instant>>{std::vector<Instant>{}} : hours_on(strip);
        if (!hours) return hours.error();
        add("plan" + suffix, drawn([&] {
                const draw::PlanContent content{date, *hours, draw::covers_on_plan(strip),
                                                strip.planned ? &*strip.planned : nullptr};
                return draw::draw_plan(draw::with_key_lamp(there, strip), study, content,
                                       frame("plan"))
                    .svg;
            }));
    }
    if (wants("section") && study != nullptr) draw_sections(*study, strip);
    if (wants("strip"))
        add("strip" + suffix, drawn([&] { return draw_strip(there, strip, frame("strip")).svg; }));
    return std::nullopt;
}

/// A chart for each mark, and for each camera where several aim at it.
std::optional<Failure> SheetMaker::draw_years() {
    const date::year year = q_.dates.first.year();
    const auto shared = study::track_of_year(q_.location.site.zone, year);
    if (!shared) return Failure{wrong_usage, "a year is drawn from 1801 to 2198"};
    const study::SeasonalStudy seasons{q_.location, shared, year / 1 / 1, year / 12 / 31};
    const room::Room& room = *q_.location.room;
    for (std::size_t m = 0; m < room.marks.size(); ++m) {
        if (mark_ && *mark_ != m) continue;
        const study::KeyYear keys = names_only_ ? study::KeyYear{} : key_year(seasons, m, year);
        const auto cameras = seasons.on(q_.dates.first).cameras_of(m);
        for (const auto& camera : cameras) {
            draw::YearContent content;
            if (!q_.dates.is_range) content.marked = q_.dates.first;
            std::string name = "year-" + draw::file_word(room.marks[m].name);
            if (cameras.size() > 1 && camera) {
                content.camera = camera;
                name += "-" + draw::file_word(room.cameras[*camera].name);
            }
            add(name,
                names_only_ ? std::string{} : draw_year(q_.location, keys, content, frame("year")));
        }
    }
    return std::nullopt;
}

Answer<std::vector<SheetFile>> SheetMaker::draw() {
    if (const auto failure = read_wishes()) return tl::unexpected{*failure};
    const bool of_days = wants("plan") || wants("section") || wants("strip");
    int dates = 0;
    for (site::LocalDate d = q_.dates.first; d <= q_.dates.last && of_days; d = site::next_day(d)) {
        if (++dates > most_sheet_dates)
            return usage_failure(fmt::format(
                "drawings are of {} dates at most: give a shorter range, or --only year",
                most_sheet_dates));
        if (const auto failure = draw_date(d)) return tl::unexpected{*failure};
    }
    if (wants("year") && q_.seasons)
        if (const auto failure = draw_years()) return tl::unexpected{*failure};
    return std::move(files_);
}

}  // namespace

Answer<std::unique_ptr<SheetQuestion>> SheetQuestion::ask(const SheetWishes& wishes) {
    auto read = read::read_location(wishes.location, wishes.what_if.changes());
    if (!read) return data_failure(read::text(read.error()));
    const auto range = wishes.dates.read(read->site.zone, now());
    if (!range) return tl::unexpected{range.error()};
    const auto recce = recce_of(wishes.location, wishes.units, wishes.what_if.changes());
    if (!recce) return tl::unexpected{recce.error()};
    auto q = std::make_unique<SheetQuestion>();
    q->location = *std::move(read);
    q->dates = *range;
    q->units = recce->units;
    if (auto failure = wishes.lock.plan(q->location)) return tl::unexpected{*failure};
    const site::Zone& zone = q->location.site.zone;
    q->shared =
        study::SharedTrack::make(zone.start_of(range->first) - Seconds{86400},
                                 zone.start_of(site::next_day(range->last)) + Seconds{2 * 86400.0});
    if (!q->shared)
        return usage_failure(
            "a sheet looks two days beyond its dates; dates served: 1800-01-03 to 2199-12-27");
    if (q->location.room && !q->location.room->windows.empty())
        q->seasons = std::make_unique<study::SeasonalStudy>(q->location, q->shared, range->first,
                                                            range->last);
    return q;
}

const study::DayStrip& SheetQuestion::strip_on(site::LocalDate date) const {
    const auto known = strips_.find(date);
    if (known != strips_.end()) return known->second;
    return strips_.emplace(date, study::day_strip(location, study_on(date), shared, date))
        .first->second;
}

bool wants(const SheetWishes& wishes, const char* kind) {
    return wishes.only.empty() || std::ranges::find(wishes.only, kind) != wishes.only.end();
}

Answer<std::vector<SheetFile>> draw_sheet(const SheetQuestion& question,
                                          const SheetWishes& wishes) {
    return SheetMaker{question, wishes}.draw();
}

Answer<std::vector<std::string>> drawing_names(const SheetQuestion& question,
                                               const SheetWishes& wishes) {
    const auto files = SheetMaker{question, wishes, true}.draw();
    if (!files) return tl::unexpected{files.error()};
    std::vector<std::string> names;
    for (const SheetFile& f : *files)
        names.push_back(f.name);
    return names;
}

Answer<std::vector<Instant>> plan_hours(const SheetQuestion& question, const SheetWishes& wishes,
                                        const study::DayStrip& strip) {
    return SheetMaker{question, wishes}.hours(strip);
}

}  // namespace keyhour::cli
