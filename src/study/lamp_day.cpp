#include "keyhour/study/lamp_day.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "keyhour/light/colour_temperature.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "window_view.hpp"

namespace keyhour::study {
namespace {

bool can_be_aimed(const site::Lamp& lamp, site::Lamp::Place place) {
    return lamp.place == place && !std::holds_alternative<site::Lumens>(lamp.photometry);
}

std::optional<std::size_t> first_lamp(const site::Location& location, site::Lamp::Place place) {
    for (std::size_t i = 0; i < location.lamps.size(); ++i)
        if (can_be_aimed(location.lamps[i], place)) return i;
    return std::nullopt;
}

/// Of the open windows with a straight line to the mark the first out of frame, at the usual key
/// angle, as far as there are such.
std::optional<std::size_t> first_window(const RoomStudy& study, std::size_t mark,
                                        std::optional<std::size_t> camera) {
    std::optional<std::pair<std::pair<bool, double>, std::size_t>> best;
    for (std::size_t w = 0; w < study.room().windows.size(); ++w) {
        if (!lets_sun_in(study.room().windows[w]) || !study.scene().faces(w, mark)) continue;
        const WindowView view = camera ? window_view(study, w, mark, *camera) : WindowView{};
        const std::pair worth{view.in_frame, off_usual_angle(view.key_angle_deg)};
        if (!best || worth < best->first) best = {worth, w};
    }
    if (!best) return std::nullopt;
    return best->second;
}

/// The plan's, else the first that the plan's window leads to.
std::optional<std::size_t> mark_of(const RoomStudy& study, const site::LockPlan& plan) {
    const std::size_t marks = study.room().marks.size();
    for (std::size_t m = plan.mark.value_or(0); m < (plan.mark ? *plan.mark + 1 : marks); ++m)
        if (!plan.window || study.scene().faces(*plan.window, m)) return m;
    return std::nullopt;
}

LampQuestion question_of_lamp(const site::Location& location, std::size_t lamp, double ratio) {
    LampQuestion q;
    q.lamp = lamp;
    const site::Lamp& of = location.lamps[lamp];
    q.through_middle = !(of.at && of.height_m);
    if (const auto fill = first_lamp(location, site::Lamp::Place::inside)) {
        WantedFill wish;
        wish.lamp = *fill;
        wish.ratio = ratio;
        q.fill = wish;
    }
    return q;
}

// --- daylight -----------------------------------------------------------------------------------

/// What a black body of this temperature adds, lx of Y. Planck's law, c2 = 14 387.769 um K (SI).
light::Tristimulus black_body(double kelvin, double lx) {
    light::Spectrum s{};
    for (std::size_t i = 0; i < s.size(); ++i) {
        const double um = light::spectral_table[i].wavelength_nm / 1000;
        s[i] = 1 / (std::pow(um, 5) * std::expm1(14387.769 / (um * kelvin)));
    }
    const light::Tristimulus t = light::tristimulus(s);
    return (lx / t.Y) * t;
}

/// The key's colour from the lamp's own, the daylight taken as a black body.
std::optional<double> mired_from_lamp(double lamp_lx, double lamp_kelvin, double day_lx,
                                      const std::optional<double>& day_kelvin) {
    if (!(lamp_lx > 0)) return std::nullopt;
    if (!day_kelvin) return std::nullopt;
    const light::Tristimulus lamp = black_body(lamp_kelvin, lamp_lx);
    const auto mired = [](const light::Tristimulus& t) {
        return light::colour_temperature(light::chromaticity(t)).mired();
    };
    return mired(lamp + black_body(*day_kelvin, day_lx)) - mired(lamp);
}

/// The room while its covers hang.
class CoveredRoom {
public:
    CoveredRoom(const RoomStudy& study, const std::vector<CoverToHang>& covers)
        : location_{hung(study.location(), covers)},
          study_{location_, study.path().shared()},
          light_{study_} {}
    CoveredRoom(const CoveredRoom&) = delete;
    CoveredRoom& operator=(const CoveredRoom&) = delete;
    ~CoveredRoom() = default;

    [[nodiscard]] MarkLight at(std::size_t mark, std::size_t window, Instant t) const {
        return light_.at(mark, window, study_.path().at(t));
    }

private:
    static site::Location hung(site::Location location, const std::vector<CoverToHang>& covers) {
        for (const CoverToHang& cover : covers)
            location.room->windows[cover.window].cover = room::Cover::blackout;
        return location;
    }
    site::Location location_;
    RoomStudy study_;
    RoomLight light_;
};

/// The fill lamp's part: as much as was asked for, or what it gives where it stands.
double fill_lamp_lx(const LampReport& report) {
    if (!report.fill || report.fill->lamp_lx <= 0) return 0;
    if (report.fill->placed_lx) return std::min(report.fill->lamp_lx, *report.fill->placed_lx);
    return report.fill->distance_m ? report.fill->lamp_lx : 0;
}

/// Lowest to highest of what is added.
class Range {
public:
    void add(double value) {
        low_ = std::min(low_, value);
        high_ = std::max(high_, value);
    }
    /// 0 where nothing was.
    [[nodiscard]] double width() const { return std::max(0.0, high_ - low_); }

private:
    double low_ = std::numeric_limits<double>::infinity(), high_ = -low_;
};

class DaylightOverLock {
public:
    DaylightOverLock(const RoomStudy& study, const LampDayQuestion& q, const LampDay& day)
        : study_{study},
          q_{q},
          day_{day},
          lamp_{study.location().lamps[q.lamp->lamp]},
          room_{study, day.lock->covers} {}

    [[nodiscard]] LampHour at(Instant t) const {
        const MarkLight now = room_.at(q_.mark, q_.window, t);
        const double lamp_lx = day_.lamp->light->level_lx;
        LampHour hour;
        hour.at = t;
        hour.daylight_key_lx = now.key_lx.likely;
        hour.daylight_fill_lx = now.fill_lx.likely;
        hour.levels = {
            lamp_lx + hour.daylight_key_lx,
            day_.lamp->light->given_back_lx + hour.daylight_fill_lx + fill_lamp_lx(*day_.lamp)};
        hour.key_to_fill_stops = hour.levels.stops(light::RatioConvention::key_to_fill);
        hour.key_mired =
            mired_from_lamp(lamp_lx, lamp_.kelvin, hour.daylight_key_lx, now.key_kelvin);
        return hour;
    }

    /// Both ends of the lock and the whole hours of the local clock between.
    [[nodiscard]] std::vector<LampHour> hours() const {
        const Span& lock = day_.lock->lock;
        constexpr Seconds hour{3600};
        constexpr Seconds apart{300};
        std::vector<LampHour> out{at(lock.from)};
        const Instant midnight = study_.location().site.zone.start_of(day_.date);
        const double first = std::ceil((lock.from + apart - midnight) / hour);
        for (double h = first; midnight + h * hour < lock.to - apart; ++h)
            out.push_back(at(midnight + h * hour));
        out.push_back(at(lock.to));
        return out;
    }

    [[nodiscard]] DaylightMove move(std::vector<LampHour> instants) const {
        const Span& lock = day_.lock->lock;
        constexpr Seconds step{600};
        for (Instant t = lock.from + step; t < lock.to; t = t + step)
            instants.push_back(at(t));
        Range key, ratio, mired;
        DaylightMove move;
        for (const LampHour& h : instants) {
            key.add(std::log2(h.levels.key_lx));
            ratio.add(h.key_to_fill_stops);
            if (!h.key_mired) continue;
            mired.add(*h.key_mired);
            if (std::abs(*h.key_mired) > std::abs(move.most_off_lamp_mired))
                move.most_off_lamp_mired = *h.key_mired;
        }
        move.key_stops = key.width();
        move.ratio_stops = ratio.width();
        move.key_mired = mired.width();
        return move;
    }

private:
    const RoomStudy& study_;
    const LampDayQuestion& q_;
    const LampDay& day_;
    const site::Lamp& lamp_;
    CoveredRoom room_;
};

// --- one date -----------------------------------------------------------------------------------

bool holds(const SunFreeSpan& span, const Span& lock) {
    return span.span && span.span->from <= lock.from && lock.to <= span.span->to;
}

std::vector<ClothToHang> cloth_for(const LockAnswer& lock, double overlap_m) {
    std::vector<ClothToHang> out;
    for (const CoverToHang& cover : lock.covers)
        out.push_back(
            {cover.window, cloth_of(cover, overlap_m), cover.sure_by, cover.needed_by.has_value()});
    return out;
}

/// @pre the day has its lock, cloth and lamp
std::vector<ClothToHang> cloth_against_lamp(const LampDay& day, const room::Room& room,
                                            double overlap_m) {
    std::vector<ClothToHang> out;
    for (const AlsoEnters& in : day.lamp->light->also_enters) {
        const room::Window& window = room.windows[in.window];
        if (window.cover != room::Cover::open) continue;
        if (std::any_of(day.cloth.begin(), day.cloth.end(),
                        [&](const ClothToHang& c) { return c.window == in.window; }))
            continue;
        CoverToHang cover;
        cover.width_m = window.width_m;
        cover.height_m = window.height_m;
        out.push_back({in.window, cloth_of(cover, overlap_m), day.lock->lock.from, true});
    }
    return out;
}

}  // namespace

LampSettings lamp_settings(const room::Room& room, const LampDayQuestion& q) {
    LampSettings s;
    s.lock = q.lock;
    s.window = room.windows[q.window].name;
    s.mark = room.marks[q.mark].name;
    if (q.camera) s.camera = room.cameras[*q.camera].name;
    if (q.hours) {
        s.earliest = q.hours->from;
        s.latest = q.hours->to;
    }
    return s;
}

std::optional<LampDayQuestion> lamp_day_question(const RoomStudy& study, double ratio) {
    return lamp_day_question(study, study.location().lock.value_or(site::LockPlan{}), ratio);
}

std::optional<LampDayQuestion> lamp_day_question(const RoomStudy& study, const site::LockPlan& plan,
                                                 double ratio) {
    const site::Location& location = study.location();
    const auto mark = mark_of(study, plan);
    if (!mark) return std::nullopt;
    LampDayQuestion q;
    q.mark = *mark;
    q.camera = plan.camera ? plan.camera : study.cameras_of(q.mark).front();
    const auto window = plan.window ? plan.window : first_window(study, q.mark, q.camera);
    if (!window) return std::nullopt;
    q.window = *window;
    if (plan.length) q.lock = *plan.length;
    if (plan.hours) q.hours = plan.hours;
    const auto lamp = plan.lamp ? plan.lamp : first_lamp(location, site::Lamp::Place::outside);
    if (lamp) q.lamp = question_of_lamp(location, *lamp, ratio);
    return q;
}

Span hours_of(const site::Zone& zone, site::LocalDate date,
              const std::optional<site::WorkingHours>& hours) {
    const Instant midnight = zone.start_of(date);
    if (!hours) return {midnight, zone.start_of(site::next_day(date)), false, false};
    const auto by_clock = [&](std::chrono::seconds time) {
        return zone.instant(date::local_days{date} + time).value_or(midnight + Seconds{time});
    };
    return {by_clock(hours->from), by_clock(hours->to), false, false};
}

LampDay lamp_day(const RoomSun& sun, site::LocalDate date, bool first_of_range,
                 const LampDayQuestion& q) {
    const Span within = hours_of(sun.study().location().site.zone, date, q.hours);
    return lamp_day(sun, date, first_of_range, q,
                    best_lock(sun, within.from, within.to, q.lock, q.window, q.landing));
}

LampDay lamp_day(const RoomSun& sun, site::LocalDate date, bool first_of_range,
                 const LampDayQuestion& q, std::optional<LockAnswer> lock) {
    const RoomStudy& study = sun.study();
    LampDay day;
    day.date = date;
    day.within = hours_of(study.location().site.zone, date, q.hours);
    day.spans = sun_free_spans(sun, date, first_of_range, lamp_settings(study.room(), q),
                               q.landing == Landing::looked_at ? Edges::named : Edges::left_out);
    day.lock = std::move(lock);
    if (day.lock) {
        day.cloth = cloth_for(*day.lock, q.overlap_m);
        const auto holding = std::find_if(day.spans.begin(), day.spans.end(),
                                          [&](const auto& s) { return holds(s, day.lock->lock); });
        if (holding != day.spans.end()) day.span = *holding;
    }
    if (!q.lamp) return day;
    LampQuestion lamp = *q.lamp;
    lamp.window = q.window;
    lamp.mark = q.mark;
    lamp.camera = q.camera;
    day.lamp = report_lamp(study, nullptr, lamp);
    if (!day.lock || !day.lamp->light) return day;
    day.cloth_against_lamp = cloth_against_lamp(day, study.room(), q.overlap_m);
    if (!q.daylight) return day;
    const DaylightOverLock daylight{study, q, day};
    day.hours = daylight.hours();
    day.move = daylight.move(day.hours);
    return day;
}

std::vector<LampChoice> lamp_choices(const RoomSun& sun, site::LocalDate date, bool first_of_range,
                                     const LampSettings& settings, Edges edges) {
    const auto whole = [](Seconds s) {
        return std::chrono::duration_cast<std::chrono::seconds>(s);
    };
    const site::WorkingHours hours{whole(settings.earliest.value_or(Seconds{0})),
                                   whole(settings.latest.value_or(Seconds{86400}))};
    const Span within = hours_of(sun.study().location().site.zone, date, hours);
    std::vector<std::pair<std::size_t, std::optional<LockAnswer>>> placed;  // of each window
    std::vector<LampChoice> out;
    for (SunFreeSpan& span : sun_free_spans(sun, date, first_of_range, settings, edges)) {
        auto of_window = std::find_if(placed.begin(), placed.end(),
                                      [&](const auto& p) { return p.first == span.window; });
        if (of_window == placed.end()) {
            placed.emplace_back(span.window, best_lock(sun, within.from, within.to, settings.lock,
                                                       span.window, Landing::left_out));
            of_window = placed.end() - 1;
        }
        LampChoice choice{std::move(span), {}};
        if (of_window->second && holds(choice.span, of_window->second->lock))
            choice.lock = of_window->second;
        out.push_back(std::move(choice));
    }
    return out;
}

std::vector<LampDay> lamp_days(const SeasonalStudy& seasons, site::LocalDate first,
                               site::LocalDate last, const LampDayQuestion& question) {
    SeasonalSun sun{seasons, first, last, sun_of_lamp_day};
    std::vector<LampDay> out;
    for (site::LocalDate d = first; d <= last; d = site::next_day(d))
        out.push_back(lamp_day(sun.on(d), d, sun.is_first(d), question));
    return out;
}

// --- the sun of a range -------------------------------------------------------------------------

SeasonalSun::SeasonalSun(const SeasonalStudy& seasons, site::LocalDate first, site::LocalDate last,
                         const AskedOfSun& asked)
    : seasons_{seasons}, first_{first}, last_{last}, asked_{asked} {}

const RoomSun& SeasonalSun::on(site::LocalDate date) {
    if (sun_ && from_ <= date && date <= to_) return *sun_;
    // Longer ranges are found in parts, so that memory stays level.
    constexpr date::days part{365};
    from_ = date;
    to_ = std::min(last_, site::LocalDate{date::sys_days{date} + part});
    for (const auto& stretch : seasons_.stretches())
        if (date <= stretch->season.last) to_ = std::min(to_, stretch->season.last);
    const RoomStudy& study = seasons_.on(date);
    const site::Zone& zone = study.location().site.zone;
    const auto start_of = [&](site::LocalDate d, int days) {
        return zone.start_of(date::sys_days{d} + date::days{days});
    };
    sun_.emplace(study, std::max(start_of(from_, -1), study.path().from()),
                 std::min(start_of(to_, 3), study.path().to()), asked_);
    return *sun_;
}

}  // namespace keyhour::study
