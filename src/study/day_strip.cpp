#include "keyhour/study/day_strip.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "keyhour/study/doubt.hpp"
#include "keyhour/study/patch_day.hpp"

namespace keyhour::study {
namespace {

/// Doubt moves the ends by minutes: it needs no finer samples than this.
constexpr Seconds kDoubtStep{120};

std::vector<Instant> lit_instants(const RoomStudy& study, Instant from, Instant to, Seconds step) {
    std::vector<Instant> lit;
    for (Instant t = from; t < to; t = t + step) {
        if (!sun_is_up(study, t)) continue;
        const PatchInstant instant = patches_at(study, t);
        if (!instant.patches.empty()) lit.push_back(t);
    }
    return lit;
}

}  // namespace

WindowSun window_sun(const RoomStudy& study, std::size_t window, Instant from, Instant to) {
    WindowSun sun;
    sun.window = window;
    sun.stated = sun_spans(study, window, from, to);
    const auto margin = [&](const Moment& m, const room::PlanTurn& turn) {
        return sun_in_margin(study, window, m, turn);
    };
    const auto samples = study.path().samples(from, to, kDoubtStep);
    sun.sure = find_spans(study.path(), samples, at_every(study.bearings(), margin));
    sun.possible = find_spans(study.path(), samples, at_some(study.bearings(), margin));
    return sun;
}

std::vector<CoverNeed> cover_needs(const std::vector<KeyInterval>& keys) {
    std::vector<CoverNeed> all;
    for (const KeyInterval& key : keys)
        for (const CoverSpan& c : key.to_cover)
            all.push_back({c.window, {c.from, c.to, false, false}});
    std::ranges::sort(all, [](const CoverNeed& a, const CoverNeed& b) {
        return a.window != b.window ? a.window < b.window : a.span.from < b.span.from;
    });
    std::vector<CoverNeed> out;
    for (const CoverNeed& need : all)
        if (!out.empty() && out.back().window == need.window &&
            need.span.from <= out.back().span.to)
            out.back().span.to = std::max(out.back().span.to, need.span.to);
        else
            out.push_back(need);
    return out;
}

std::optional<PlannedLock> planned_lock(const RoomStudy& study, site::LocalDate date) {
    if (!study.location().lock) return std::nullopt;
    const auto question = lamp_day_question(study);
    if (!question) return std::nullopt;
    const site::Zone& zone = study.location().site.zone;
    const auto start_of = [&](int days) {
        return zone.start_of(date::sys_days{date} + date::days{days});
    };
    const RoomSun sun{study, start_of(-1), start_of(2), sun_of_lamp_day};
    return PlannedLock{*question, lamp_day(sun, date, true, *question)};
}

std::vector<CoverNeed> covers_of_lock(const DayStrip& strip) {
    std::vector<CoverNeed> out;
    if (!strip.planned || !strip.planned->day.lock) return out;
    const LockAnswer& lock = *strip.planned->day.lock;
    for (const CoverToHang& cover : lock.covers)
        out.push_back({cover.window, lock.lock});
    std::ranges::sort(out, {}, &CoverNeed::window);
    return out;
}

DayStrip day_strip(const site::Location& location, const RoomStudy* room,
                   const std::shared_ptr<const SharedTrack>& shared, site::LocalDate date,
                   const KeySettings& key, const SpotSettings& spot) {
    DayStrip strip;
    strip.date = date;
    strip.from = location.site.zone.start_of(date);
    strip.to = location.site.zone.start_of(site::next_day(date));
    strip.day = day(location.site, shared->track(), date, spot.late_light);
    strip.clock_changes = site::clock_changes(location.site.zone, date, date);
    if (room != nullptr) {
        for (std::size_t w = 0; w < room->room().windows.size(); ++w)
            strip.windows.push_back(window_sun(*room, w, strip.from, strip.to));
        strip.keys = clean_key(*room, strip.from, strip.to, key);
        for (KeyInterval& interval : strip.keys)
            describe(*room, key, interval);
        strip.covers = cover_needs(strip.keys);
        strip.planned = planned_lock(*room, date);
    }
    for (std::size_t i = 0; i < location.spots.size(); ++i)
        strip.spots.push_back(SpotLight{location, i, shared, spot}.on(date));
    return strip;
}

std::vector<Instant> hours_of_patches(const RoomStudy& study, site::LocalDate date,
                                      std::size_t most) {
    const site::Zone& zone = study.location().site.zone;
    const Instant from = zone.start_of(date), to = zone.start_of(site::next_day(date));
    std::vector<Instant> lit = lit_instants(study, from, to, Seconds{3600});
    if (lit.size() < 2) lit = lit_instants(study, from, to, Seconds{1800});
    if (lit.size() <= most || most == 0) return lit;
    std::vector<Instant> some;
    for (std::size_t i = 0; i < most; ++i)
        some.push_back(lit[i * (lit.size() - 1) / std::max<std::size_t>(most - 1, 1)]);
    return some;
}

std::vector<Instant> minutes_of_hold(const Span& hold) {
    const auto minute = [](double (*round)(double), Instant t) {
        return Instant::from_unix_s(60 * round(t.unix_s() / 60));
    };
    const Instant middle = hold.from + 0.5 * hold.length();
    const Instant first = minute([](double x) { return std::ceil(x); }, hold.from);
    const Instant last = minute([](double x) { return std::floor(x); }, hold.to);
    if (first > last) return {middle};
    std::vector<Instant> out{first};
    const Instant between = minute([](double x) { return std::floor(x); }, middle);
    if (between > first) out.push_back(between);
    if (last > out.back()) out.push_back(last);
    return out;
}

std::vector<Instant> plan_hours(const RoomStudy& study, site::LocalDate date,
                                const std::vector<KeyInterval>& keys) {
    const auto key =
        std::ranges::find_if(keys, [](const KeyInterval& k) { return k.span.has_value(); });
    if (key == keys.end()) return hours_of_patches(study, date);
    return minutes_of_hold(*key->span);
}

std::vector<Instant> hours_of_sun(const WindowSun& sun, const site::Zone& zone) {
    std::vector<Instant> hours;
    for (const Span& span : sun.stated) {
        const auto offset = static_cast<double>(zone.at(span.from).utc_offset.count());
        double local = 3600 * std::ceil((span.from.unix_s() + offset) / 3600);
        for (; local - offset < span.to.unix_s(); local += 3600)
            hours.push_back(Instant::from_unix_s(local - offset));
    }
    if (hours.empty())
        for (const Span& span : sun.stated)
            hours.push_back(span.from + 0.5 * span.length());
    if (hours.size() <= 3) return hours;
    return {hours.front(), hours[hours.size() / 2], hours.back()};
}

}  // namespace keyhour::study
