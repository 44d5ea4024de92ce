#include "keyhour/ask/exterior.hpp"

#include <algorithm>

#include "keyhour/site/dates.hpp"

namespace keyhour::ask {
namespace {

/// Dusk and the moon's hours after it are part of a date's answer.
constexpr Seconds dusk{9 * 3600};

bool has_facade_outside(const site::Location& location) {
    return location.room && std::ranges::any_of(location.room->buildings,
                                                [](const auto& b) { return b.facade.has_value(); });
}

std::vector<study::SpotInstant> rows_of(const ExteriorQuestion& q, const study::SpotLight& spot,
                                        site::LocalDate date, const std::vector<Instant>& asked) {
    std::vector<study::SpotInstant> rows;
    const site::Outlook outlook{spot.location(), spot.spot(), date};
    for (const Instant t : asked)
        rows.push_back(spot.at(t, outlook));
    if (!asked.empty()) return rows;
    const Instant to = q.site->end_of(date);
    for (Instant t = q.site->start_of(date); t < to; t = t + Seconds{3600})
        if (spot.sun_is_up(t)) rows.push_back(spot.at(t, outlook));
    return rows;
}

/// From which minute of the evening the lamps of the street outshine the sky.
std::optional<Instant> sky_below_lamps(const ExteriorQuestion& q, std::size_t spot,
                                       site::LocalDate date,
                                       const std::vector<study::LampAtSpot>& lamps) {
    const double level = study::ground_lx(lamps);
    if (level <= 0) return std::nullopt;
    study::SpotSettings settings = q.settings;
    settings.floor_lx = level;
    return study::SpotLight{q.location(), q.spots[spot], q.site->track, settings}
        .on(date)
        .below_floor;
}

/// Of the last two hours where no time is asked about.
std::vector<study::CountdownStep> steps_of(const study::SpotLight& light,
                                           const study::LastStart& last,
                                           const std::optional<Instant>& from) {
    constexpr Seconds usual{2 * 3600};
    const Instant begin = from.value_or(std::max(last.light.from, last.light.to - usual));
    return study::countdown(light, begin, last.light.to);
}

}  // namespace

std::unique_ptr<ExteriorQuestion> ExteriorQuestion::prepare(site::Location location,
                                                            const DateRange& dates,
                                                            const site::Recce& recce,
                                                            std::vector<std::size_t> spots,
                                                            const study::SpotSettings& settings) {
    auto q = std::make_unique<ExteriorQuestion>();
    q->site = SiteQuestion::prepare(std::move(location), dates, recce, dusk);
    if (!q->site) return nullptr;
    q->settings = settings;
    q->spots = std::move(spots);
    const site::Location& here = q->site->location;
    for (const std::size_t spot : q->spots) {
        q->lights.emplace_back(here, spot, q->site->track, settings);
        if (std::string thing = q->lights.back().stands_in(); !thing.empty())
            q->inside.push_back({spot, std::move(thing)});
    }
    if (has_facade_outside(here)) q->rooms.emplace(here, q->site->track, dates.first, dates.last);
    return q;
}

SpotAnswer exterior(const ExteriorQuestion& question, std::size_t spot, site::LocalDate date,
                    const SpotRequest& request) {
    const study::SpotLight& light = question.lights[spot];
    SpotAnswer answer{light, light.on(date), {}, {}, {}, {}};
    if (request.rows && answer.day.exists)
        answer.rows = rows_of(question, light, date, request.instants);
    if (request.ends && !answer.day.direct.empty())
        answer.ends =
            study::SpotEnsemble{question.location(), question.spots[spot], question.site->track}
                .ends(answer.day.direct, date);
    if (request.sky) light.add_sky(answer.day);
    answer.lamps = study::lamps_at(question.location(), light.spot());
    answer.sky_below = sky_below_lamps(question, spot, date, answer.lamps);
    return answer;
}

std::vector<study::FacadeLight> thrown_back(const ExteriorQuestion& question,
                                            site::LocalDate date) {
    if (!question.rooms) return {};
    return study::facade_light(question.rooms->on(date), question.site->start_of(date),
                               question.site->end_of(date));
}

CountdownAnswer countdown(const ExteriorQuestion& question, std::span<const study::SpotDay> days,
                          const std::optional<Instant>& from) {
    if (days.empty() || !days.front().exists) return {};
    CountdownAnswer answer{{}, from, {}};
    std::vector<study::ShotWish> wishes;
    const study::SpotSettings& s = question.settings;
    for (std::size_t i = 0; i < question.lights.size(); ++i) {
        const study::SpotLight& light = question.lights[i];
        wishes.push_back({study::light_wanted(days[i], light.spot().wants), s.set_up, s.shot});
        SpotCountdown one{light, wishes.back(), study::last_start(wishes.back()), {}};
        if (one.last) one.steps = steps_of(light, *one.last, from);
        answer.spots.push_back(std::move(one));
    }
    if (from) answer.order = study::still_fit(wishes, *from);
    return answer;
}

}  // namespace keyhour::ask
