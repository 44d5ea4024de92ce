#include <algorithm>
#include <cmath>

#include "answer_facts_parts.hpp"
#include "keyhour/site/dates.hpp"
#include "words/clock.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

/// "Tue 10 March 2026" of an ISO date, without its year.
std::string day_words(const Json& iso) {
    const auto date = site::read_date(word_of(iso));
    if (!date) return word_of(iso);
    const std::string words = words::short_date(*date);
    return words.substr(0, words.rfind(' '));
}

struct Best {
    const Json* interval = nullptr;
    const Json* day = nullptr;
    std::size_t number = 0, dates = 0;
};

/// Longest at any bearing, then longest, then earliest.
Best best_of(const Json& answer) {
    Best best;
    for (const Json* day : days_of(answer)) {
        std::size_t held = 0;
        const auto list = day->find("intervals");
        if (list == day->end()) continue;
        for (const Json& k : *list) {
            if (!k["start_utc"].is_string()) continue;
            ++held;
            const auto rank = [](const Json& of) {
                return std::pair{number_of(of, "sure_min"), number_of(of, "hold_min")};
            };
            if (!best.interval || rank(k) > rank(*best.interval)) {
                best.interval = &k;
                best.day = day;
            }
        }
        best.number += held;
        if (held > 0) ++best.dates;
    }
    return best;
}

/// The near miss, where there is none: the reason of the first that came near.
std::string reason_of(const Json& answer) {
    std::string first;
    for (const Json& miss : answer.value("without", Json::array())) {
        const std::string told =
            fmt::format("{}: {}", word_of(miss["window"]), word_of(miss["reason"]));
        if (miss["nearest_utc"].is_string()) return told;
        if (first.empty()) first = told;
    }
    return first.empty() ? "-" : first;
}

std::string sure_of(const Json& k) {
    const auto at = k.find("sure");
    return at == k.end() || !at->is_array() ? "none" : held_for((*at)[0], (*at)[1]);
}

AnswerFacts key_facts(const Json& answer) {
    AnswerFacts out;
    const bool by_lamp = answer.value("by", "sun") == "lamp";
    const char* what = by_lamp ? "free of sun" : "clean key";
    const Best best = best_of(answer);
    const bool is_range = answer.contains("days");
    out.push_back({is_range ? "how many" : "spans",
                   is_range ? fmt::format("{} on {} dates", best.number, best.dates)
                            : fmt::format("{}", best.number)});
    if (!best.interval) {
        out.push_back({what, "none"});
        out.push_back({"nearest", reason_of(answer)});
        return out;
    }
    const Json& k = *best.interval;
    if (is_range) out.push_back({"best date", day_words((*best.day)["date"])});
    out.push_back({what, held_between(k["start_local"], k["end_local"])});
    out.push_back({"hold", held_for(k["start_utc"], k["end_utc"])});
    out.push_back({"at any bearing", sure_of(k)});
    out.push_back({"window", word_of(k["window"])});
    out.push_back({"mark", word_of(k["mark"])});
    out.push_back({"begins by", word_of(k["begins_by"])});
    out.push_back({"ends by", word_of(k["ends_by"])});
    if (k.contains("level_lx"))
        out.push_back({"level at start", words::level(number_of(k["level_lx"], "at_start"))});
    if (k.contains("key_angle_deg") && k["key_angle_deg"].is_array())
        out.push_back({"key angle", degrees_of(k["key_angle_deg"]) + " degrees"});
    out.push_back({"cover", names_of(k.value("to_cover", Json::array()), "window")});
    const auto lock = k.find("lock");
    if (lock != k.end() && lock->is_object())
        out.push_back({"lock", held_between((*lock)["start_local"], (*lock)["end_local"])});
    return out;
}

AnswerFacts lock_facts(const Json& answer) {
    AnswerFacts out;
    for (const Json* day : days_of(answer)) {
        const std::string date = answer.contains("days") ? day_words((*day)["date"]) + ": " : "";
        const auto lock = day->find("lock");
        if (lock == day->end() || !lock->is_object()) {
            out.push_back({date + "lock", "none"});
            continue;
        }
        out.push_back({date + "lock", held_between((*lock)["start_local"], (*lock)["end_local"])});
        out.push_back({date + "leaks", names_of(day->value("leaks", Json::array()), "window")});
        out.push_back({date + "cover", names_of(day->value("covers", Json::array()), "window")});
        out.push_back({date + "cloth", fmt::format("{:.1f} m2", number_of(*day, "cover_area_m2"))});
    }
    return out;
}

AnswerFacts lamp_facts(const Json& answer) {
    AnswerFacts out;
    const bool reachable = answer.value("reachable", false);
    out.push_back({"as wanted", reachable ? "yes" : "no"});
    const Json place = answer.value(reachable ? "wanted" : "nearest", Json());
    if (!place.is_object()) return out;
    out.push_back({"off the wall", fmt::format("{:.2f} m", number_of(place, "off_wall_m"))});
    out.push_back({"along it", fmt::format("{:.2f} m", number_of(place, "along_wall_m"))});
    out.push_back(
        {"above ground", fmt::format("{:.2f} m", number_of(place, "height_above_ground_m"))});
    out.push_back({"to the mark", fmt::format("{:.2f} m", number_of(place, "distance_m"))});
    const Json light = answer.value("light", Json());
    if (!light.is_object()) return out;
    out.push_back({"pan, tilt", fmt::format("{:.0f}, {:.0f} degrees", number_of(light, "pan_deg"),
                                            number_of(light, "tilt_deg"))});
    out.push_back({"key angle", fmt::format("{:.0f} degrees", number_of(light, "key_angle_deg"))});
    out.push_back({"level", words::level(number_of(light, "level_lx"))});
    const Json ratio = answer.value("ratio", Json());
    if (ratio.is_object() && ratio.contains("key_to_fill_stops"))
        out.push_back(
            {"key:fill", fmt::format("{:.1f} stops", number_of(ratio, "key_to_fill_stops"))});
    return out;
}

/// How much of each mark is lit, through whatever window most.
std::string lit_marks(const Json& instant) {
    std::string out;
    for (const Json& mark : instant.value("marks", Json::array())) {
        double most = 0;
        const Json coverage = mark.value("coverage", Json::object());
        for (const auto& [window, share] : coverage.items())
            most = std::max(most, share.get<double>());
        out += fmt::format("{}{} {:.0f} %", out.empty() ? "" : ", ", word_of(mark["mark"]),
                           std::floor(100 * most));
    }
    return out.empty() ? "-" : out;
}

AnswerFacts instant_facts(const Json& instants) {
    AnswerFacts out;
    for (const Json& instant : instants) {
        const std::string time = clock_of(instant["local"], Rounded::nearest);
        for (const Json& patch : instant.value("patches", Json::array()))
            out.push_back({fmt::format("{} {}, {}", time, word_of(patch["window"]),
                                       word_of(patch["surface"])),
                           fmt::format("{:.2f} m2", number_of(patch, "area_m2"))});
        out.push_back({time + " marks lit", lit_marks(instant)});
    }
    return out;
}

/// A day of patches: of each window from when to when, and its largest.
AnswerFacts patch_day_facts(const Json& instants) {
    struct Sun {
        std::string window;
        const Json *first, *last, *largest;
        double area;
    };
    std::vector<Sun> suns;
    for (const Json& instant : instants)
        for (const Json& patch : instant.value("patches", Json::array()))
            if (const std::string name = word_of(patch["window"]);
                std::ranges::find(suns, name, &Sun::window) == suns.end())
                suns.push_back({name, &instant, &instant, &instant, 0});
    for (Sun& sun : suns) {
        for (const Json& instant : instants) {
            double area = 0;
            for (const Json& patch : instant["patches"])
                if (word_of(patch["window"]) == sun.window) area += number_of(patch, "area_m2");
            if (area > 0) sun.last = &instant;
            if (area > sun.area) {
                sun.area = area;
                sun.largest = &instant;
            }
        }
    }
    AnswerFacts out;
    for (const Sun& sun : suns) {
        out.push_back(
            {sun.window, fmt::format("{} to {}", clock_of((*sun.first)["local"], Rounded::nearest),
                                     clock_of((*sun.last)["local"], Rounded::nearest))});
        out.push_back({sun.window + ", largest",
                       fmt::format("{:.2f} m2 at {}", sun.area,
                                   clock_of((*sun.largest)["local"], Rounded::nearest))});
    }
    if (out.empty()) out.push_back({"sun", "none"});
    return out;
}

AnswerFacts patch_facts(const Json& answer) {
    constexpr std::size_t few = 4;
    AnswerFacts out;
    for (const Json* day : days_of(answer)) {
        const auto instants = day->find("instants");
        if (instants == day->end()) continue;
        AnswerFacts more =
            instants->size() <= few ? instant_facts(*instants) : patch_day_facts(*instants);
        for (AnswerFact& fact : more) {
            if (answer.contains("days")) fact.label = day_words((*day)["date"]) + ": " + fact.label;
            out.push_back(std::move(fact));
        }
    }
    return out;
}

}  // namespace

AnswerFacts room_facts(const std::string& command, const Json& answer) {
    if (command == "key") return key_facts(answer);
    if (command == "lock") return lock_facts(answer);
    if (command == "lamp") return lamp_facts(answer);
    return patch_facts(answer);
}

}  // namespace keyhour::tell
