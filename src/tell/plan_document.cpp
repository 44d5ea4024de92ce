#include "tell/plan_document.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "keyhour/site/dates.hpp"
#include "keyhour/version.hpp"
#include "tell/csv.hpp"
#include "tell/plan_words.hpp"
#include "words/shoot_names.hpp"

namespace keyhour::tell {
namespace {

using study::Shoot;

const char* kind_name(study::PlanRule::Kind kind) {
    constexpr const char* names[] = {"kept",     "light",       "people",     "order",
                                     "same_day", "same_set_up", "hours",      "moves",
                                     "rest",     "breaks",      "longest_day"};
    return names[static_cast<std::size_t>(kind)];
}

class PlanDocument {
public:
    PlanDocument(const Shoot& shoot, const ask::PlanAnswer& answer, int late_min)
        : shoot_{shoot}, a_{answer}, late_min_{late_min} {}

    Json document() const {
        Json out;
        out["keyhour"] = version();
        out["shoot"] = shoot_.name;
        out["exists"] = a_.exists;
        out["is_proven"] = a_.is_proven;
        out["late_min"] = late_min_;
        out["days"] = days(a_.days);
        out["dropped"] = Json::array();
        for (const std::size_t scene : a_.dropped)
            out["dropped"].push_back(
                {{"scene", shoot_.scenes[scene].name},
                 {"no_light", !no_light_in_words(shoot_, a_.light, scene).empty()}});
        out["overcast"] = Json::array();
        for (std::size_t d = 0; d < a_.overcast.size(); ++d)
            if (a_.overcast[d]) {
                Json one{{"date", site::iso_date(shoot_.days[d])}};
                one.update(variant(*a_.overcast[d]));
                out["overcast"].push_back(std::move(one));
            }
        out["swapped"] = a_.swapped ? variant(*a_.swapped) : Json(nullptr);
        out["conflict"] = a_.conflict ? conflict(*a_.conflict) : Json(nullptr);
        return out;
    }

private:
    void put(Json& out, const std::string& name, Instant t) const {
        out[name + "_utc"] = site::iso_utc(t);
        out[name + "_local"] = site::iso_local(t, shoot_.zone());
    }
    static double minutes(Seconds s) { return rounded(s.count() / 60, 3); }

    Json scene(const ask::PlannedScene& s) const {
        const study::ShootScene& asked = shoot_.scenes[s.scene];
        Json out;
        out["scene"] = asked.name;
        out["place"] = shoot_.places[asked.place].name;
        out["light"] = words::name(asked.light);
        out["repeatable"] = asked.repeatable;
        out["move_min"] = minutes(s.move);
        put(out, "set_up", s.set_up_from);
        put(out, "start", s.from);
        put(out, "end", s.to);
        put(out, "latest_start", s.latest);
        out["slack_min"] = minutes(s.slack());
        out["is_sure"] = s.is_sure;
        out["stated_slack_min"] = minutes(s.latest_stated.value_or(s.latest) - s.from);
        out["over_run_min"] = asked.over_run.count();
        out["cloth"] = Json::array();
        for (const study::ClothToHang& cloth : s.cloth) {
            Json one;
            one["window"] = shoot_.places[asked.place].location.room->windows[cloth.window].name;
            one["width_m"] = rounded(cloth.cloth.width_m, 5);
            one["height_m"] = rounded(cloth.cloth.height_m, 5);
            put(one, "needed_by", cloth.needed_by);
            out["cloth"].push_back(std::move(one));
        }
        return out;
    }

    Json days(const std::vector<ask::PlannedDay>& planned) const {
        Json out = Json::array();
        for (const ask::PlannedDay& day : planned) {
            Json one;
            one["date"] = site::iso_date(shoot_.days[day.day]);
            put(one, "call", day.call());
            put(one, "wrap", day.wrap());
            one["scenes"] = Json::array();
            for (const ask::PlannedScene& s : day.scenes)
                one["scenes"].push_back(scene(s));
            one["breaks"] = Json::array();
            for (const study::Span& pause : day.breaks) {
                Json span;
                put(span, "start", pause.from);
                put(span, "end", pause.to);
                one["breaks"].push_back(std::move(span));
            }
            one["lost_when_late"] =
                day.breaks_late ? Json(shoot_.scenes[*day.breaks_late].name) : Json(nullptr);
            one["first_to_break"] = day.first
                                        ? Json{{"scene", shoot_.scenes[day.first->scene].name},
                                               {"from_min", day.first->from_min}}
                                        : Json(nullptr);
            out.push_back(std::move(one));
        }
        return out;
    }

    Json variant(const ask::PlanVariant& v) const {
        Json out{{"exists", v.exists}, {"is_proven", v.is_proven}};
        out["days"] = days(v.days);
        out["dropped"] = Json::array();
        for (const std::size_t s : v.dropped)
            out["dropped"].push_back(shoot_.scenes[s].name);
        return out;
    }

    Json conflict(const study::PlanConflict& c) const {
        Json out{{"is_minimal", c.is_minimal}, {"enough_is_all", c.enough_is_all}};
        out["rules"] = Json::array();
        for (const study::PlanRule& rule : c.rules)
            out["rules"].push_back(
                {{"kind", kind_name(rule.kind)}, {"in_words", rule_in_words(shoot_, a_, rule)}});
        out["enough"] = Json::array();
        for (const study::Giving& giving : c.enough)
            out["enough"].push_back(
                {{"kind", kind_name(giving.rule.kind)},
                 {"minutes", giving.minutes ? Json(*giving.minutes) : Json(nullptr)},
                 {"in_words", giving_in_words(shoot_, a_, giving)}});
        return out;
    }

    const Shoot& shoot_;
    const ask::PlanAnswer& a_;
    int late_min_;
};

}  // namespace

Json plan_document(const Shoot& shoot, const ask::PlanAnswer& answer, int late_min) {
    return PlanDocument{shoot, answer, late_min}.document();
}

std::string plan_csv_head() {
    return "date,scene,place,light,repeatable,move_min,set_up_local,start_local,end_local,"
           "latest_start_local,slack_min,cloth\r\n";
}

std::string plan_csv(const Shoot& shoot, const ask::PlanAnswer& answer) {
    std::string out = plan_csv_head();
    const auto local = [&](Instant t) { return site::iso_local(t, shoot.zone()); };
    const auto text = [](const std::string& s) { return csv_field(csv_text(s)); };
    for (const ask::PlannedDay& day : answer.days)
        for (const ask::PlannedScene& s : day.scenes) {
            const study::ShootScene& scene = shoot.scenes[s.scene];
            out += fmt::format("{},{},{},{},{},{:.0f},{},{},{},{},{:.0f},{}\r\n",
                               site::iso_date(shoot.days[day.day]), text(scene.name),
                               text(shoot.places[scene.place].name), words::name(scene.light),
                               scene.repeatable ? "yes" : "no", s.move.count() / 60,
                               local(s.set_up_from), local(s.from), local(s.to), local(s.latest),
                               s.slack().count() / 60, text(cloth_in_words(shoot, s)));
        }
    return out;
}

}  // namespace keyhour::tell
