#include "keyhour/ask/lock.hpp"

namespace keyhour::ask {
namespace {

study::AskedOfSun asked_by(const LockRequest& request) {
    return request.landing || request.by_lamp ? study::sun_of_lamp_day : study::AskedOfSun{};
}

}  // namespace

Locks::Locks(const RoomQuestion& question, const LockRequest& request)
    : question_{question},
      request_{request},
      sun_{*question.seasons, question.dates.first, question.dates.last, asked_by(request)} {}

LockAnswer Locks::on(site::LocalDate date, const LockTime& time) {
    const Instant from = time.within.from, to = time.within.to;
    LockAnswer out;
    if (time.length && to - from < *time.length) return out;
    const study::RoomSun& sun = sun_.on(date);
    const auto landing = request_.landing ? study::Landing::looked_at : study::Landing::left_out;
    const auto& key = request_.plan.window;
    out.lock = time.length ? study::best_lock(sun, from, to, *time.length, key, landing)
                           : study::leaks_of_lock(sun, from, to, key, landing);
    if (request_.by_lamp && key && out.lock)
        out.by_lamp = by_lamp(sun, date, time.within, *out.lock);
    return out;
}

std::optional<study::PlannedLock> Locks::by_lamp(const study::RoomSun& sun, site::LocalDate date,
                                                 const study::Span& within,
                                                 const study::LockAnswer& lock) const {
    auto question = study::lamp_day_question(sun.study(), request_.plan);
    if (!question || !question->lamp) return std::nullopt;
    const Instant midnight = question_.start_of(date);
    const auto since = [&](Instant t) {
        return std::chrono::duration_cast<std::chrono::seconds>(t - midnight);
    };
    question->lock = lock.lock.length();
    question->hours = site::WorkingHours{since(within.from), since(within.to)};
    return study::PlannedLock{*question, study::lamp_day(sun, date, true, *question, lock)};
}

LockAnswer lock(const RoomQuestion& question, const LockTime& time, const LockRequest& request) {
    return Locks{question, request}.on(question.dates.first, time);
}

}  // namespace keyhour::ask
