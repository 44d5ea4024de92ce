#include "doubt_documents.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "instants.hpp"
#include "keyhour/site/dates.hpp"
#include "sheet_text.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
namespace {

using study::Input;

const char* word(Input input) {
    switch (input) {
        case Input::mark_place:
        case Input::camera_place:
            return "place";
        case Input::places_outside:
            return "places outside";
        case Input::floor:
            return "floor";
        case Input::mark_height:
        case Input::height:
            return "height";
        case Input::left:
            return "left";
        case Input::width:
            return "width";
        case Input::sill:
            return "sill";
        case Input::reveal:
            return "reveal";
        case Input::bearing:
            return "bearing";
        case Input::clock:
            return "clock";
        case Input::refraction:
            return "refraction";
        case Input::skyline:
            return "skyline";
        case Input::heights_outside:
            break;
    }
    return "heights outside";
}

std::string at_least(Seconds hold) {
    return words::in_minutes(Seconds{60 * std::floor(hold.count() / 60)});
}

bool is_promised(const study::HoldDoubt& doubt) {
    return doubt.hold_90 >= Seconds{60};
}

enum class Unit { metres, degrees, seconds, percent };

Unit unit(const study::InputEffect& effect) {
    if (effect.mark || effect.window || effect.camera) return Unit::metres;
    switch (effect.input) {
        case Input::bearing:
        case Input::skyline:
            return Unit::degrees;
        case Input::clock:
            return Unit::seconds;
        case Input::places_outside:
        case Input::floor:
            return Unit::metres;
        default:
            break;
    }
    return Unit::percent;
}

Json between(const study::Span& span) {
    return Json::array(
        {site::iso_utc(span.from, fraction_digits), site::iso_utc(span.to, fraction_digits)});
}

}  // namespace

void add_doubt(Json& interval, const study::HoldDoubt& doubt) {
    constexpr int minute_decimals = 3, share_decimals = 4;
    const auto minutes = [](Seconds s) { return rounded(s.count() / 60, minute_decimals); };
    interval["hold_90_min"] = minutes(doubt.hold_90);
    interval["lit_90_utc"] = doubt.lit_90 ? between(*doubt.lit_90) : Json();
    interval["hold_50_min"] = minutes(doubt.hold_50);
    interval["hold_spread_min"] = minutes(doubt.spread);
    interval["share_of_members"] = rounded(doubt.share, share_decimals);
    const bool any = doubt.hold_50 > Seconds{0} || doubt.share > 0;
    interval["starts_between_utc"] = any ? between(doubt.begins) : Json();
    interval["ends_between_utc"] = any ? between(doubt.ends) : Json();
}

Json json_of(const study::InputEffect& effect, const room::Room& room) {
    constexpr int minute_decimals = 3, share_decimals = 4;
    const auto minutes = [](Seconds s) { return rounded(s.count() / 60, minute_decimals); };
    Json j;
    j["input"] = word(effect.input);
    j["of"] = nullptr;
    j["name"] = nullptr;
    if (effect.window) {
        j["of"] = "window";
        j["name"] = room.windows[*effect.window].name;
    } else if (effect.mark) {
        j["of"] = "mark";
        j["name"] = room.marks[*effect.mark].name;
    } else if (effect.camera) {
        j["of"] = "camera";
        j["name"] = room.cameras[*effect.camera].name;
    }
    switch (unit(effect)) {
        case Unit::metres:
            j["within_m"] = rounded(effect.within);
            break;
        case Unit::degrees:
            j["within_deg"] = rounded(effect.within);
            break;
        case Unit::seconds:
            j["within_s"] = rounded(effect.within);
            break;
        case Unit::percent:
            j["within_percent"] = rounded(100 * effect.within);
            break;
    }
    j["intervals"] = effect.intervals;
    j["share_of_doubt"] = rounded(effect.share, share_decimals);
    j["kept_spread_min"] = minutes(effect.spread);
    j["kept_spread_if_known_min"] = minutes(effect.spread_if_known);
    j["kept_90_min"] = minutes(effect.kept_90);
    j["kept_90_if_known_min"] = minutes(effect.kept_90_if_known);
    return j;
}

std::string words(const study::HoldDoubt& doubt) {
    if (doubt.share == 0) return "it holds in none of the cases";
    if (is_promised(doubt))
        return fmt::format("{}, {} in half of them", brief_words(doubt), at_least(doubt.hold_50));
    if (doubt.hold_50 >= Seconds{60})
        return fmt::format("{} or more in half of the cases, but none in 1 of 10",
                           at_least(doubt.hold_50));
    return fmt::format("it holds in only {:.0f} % of the cases", 100 * doubt.share);
}

std::string brief_words(const study::HoldDoubt& doubt) {
    if (!is_promised(doubt)) return words(doubt);
    return fmt::format("{} or more in 9 of 10 cases", at_least(doubt.hold_90));
}

std::string words(const study::InputEffect& effect, const room::Room& room) {
    if (effect.window)
        return fmt::format("{} of {}", word(effect.input), room.windows[*effect.window].name);
    if (effect.mark)
        return fmt::format("{} of {}", word(effect.input), room.marks[*effect.mark].name);
    if (effect.camera)
        return fmt::format("{} of camera {}", word(effect.input),
                           room.cameras[*effect.camera].name);
    if (effect.input == Input::floor) return "floor's lengths";
    return word(effect.input);
}

std::string within_words(const study::InputEffect& effect, site::Units units) {
    switch (unit(effect)) {
        case Unit::metres:
            return units == site::Units::feet ? words::length(effect.within, units)
                                              : fmt::format("{:.2g} m", effect.within);
        case Unit::degrees:
            return fmt::format("{:.2g} degree{}", effect.within, effect.within == 1 ? "" : "s");
        case Unit::seconds:
            return fmt::format("{:.2g} s", effect.within);
        case Unit::percent:
            break;
    }
    return fmt::format("{:.2g} %", 100 * effect.within);
}

}  // namespace keyhour::tell
