#include <algorithm>
#include <set>

#include "answer_facts_parts.hpp"

namespace keyhour::tell {
namespace {

/// Of all days together.
struct Sums {
    std::size_t scenes = 0, moves = 0;
    double move_min = 0;
    std::set<std::string> cloths;
    const Json* tightest_lock = nullptr;  ///< of what can't be repeated
    const Json* tightest = nullptr;
};

Sums sums_of(const Json& answer) {
    Sums out;
    const auto tighter = [](const Json*& kept, const Json& scene) {
        if (!kept || number_of(scene, "slack_min") < number_of(*kept, "slack_min")) kept = &scene;
    };
    for (const Json& day : answer["days"])
        for (const Json& scene : day["scenes"]) {
            ++out.scenes;
            const double minutes = number_of(scene, "move_min");
            out.move_min += minutes;
            if (minutes > 0) ++out.moves;
            for (const Json& cloth : scene["cloth"])
                out.cloths.insert(
                    fmt::format("{}: {}", word_of(scene["place"]), word_of(cloth["window"])));
            tighter(out.tightest, scene);
            if (!scene.value("repeatable", true)) tighter(out.tightest_lock, scene);
        }
    return out;
}

std::string slack_of(const Json* scene) {
    return scene ? fmt::format("{}, {}", whole_minutes_of((*scene)["slack_min"]),
                               word_of((*scene)["scene"]))
                 : "-";
}

std::string other_plan(const Json& plan) {
    if (!plan.is_object()) return "-";
    if (!plan.value("exists", false)) return "no plan";
    const std::string dropped = names_of(plan["dropped"], nullptr);
    return dropped == "none" ? "all fits" : "without " + dropped;
}

}  // namespace

AnswerFacts plan_facts(const Json& answer) {
    AnswerFacts out;
    const bool exists = answer.value("exists", false);
    out.push_back({"fits", exists ? "yes" : "no"});
    if (!exists) {
        const auto conflict = answer.find("conflict");
        if (conflict != answer.end() && conflict->is_object())
            out.push_back({"can't hold together", names_of((*conflict)["rules"], "in_words")});
        return out;
    }
    const Sums sums = sums_of(answer);
    out.push_back({"scenes", fmt::format("{}", sums.scenes)});
    out.push_back({"dropped", names_of(answer["dropped"], nullptr)});
    out.push_back({"least slack, once only", slack_of(sums.tightest_lock)});
    out.push_back({"least slack of all", slack_of(sums.tightest)});
    out.push_back({"cloths", sums.cloths.empty() ? "none"
                                                 : fmt::format("{} ({})", sums.cloths.size(),
                                                               fmt::join(sums.cloths, ", "))});
    out.push_back({"moves", fmt::format("{}, {:.0f} min", sums.moves, sums.move_min)});
    std::size_t number = 0;
    for (const Json& day : answer["days"])
        out.push_back({fmt::format("day {}", ++number),
                       fmt::format("{}: {} to {}", word_of(day["date"]),
                                   clock_of(day["call_local"], Rounded::down),
                                   clock_of(day["wrap_local"], Rounded::up))});
    number = 0;
    for (const Json& plan : answer.value("overcast", Json::array()))
        out.push_back({fmt::format("day {} without sun", ++number), other_plan(plan)});
    return out;
}

}  // namespace keyhour::tell
