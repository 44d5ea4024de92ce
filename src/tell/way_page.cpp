#include "tell/way_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>

#include "instants.hpp"
#include "keyhour/site/dates.hpp"
#include "tell/cautions.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
namespace {

using study::Crossed;
using study::Crossing;

const char* word(Crossed what) {
    switch (what) {
        case Crossed::mark:
            return "mark";
        case Crossed::object:
            return "object";
        case Crossed::point:
            return "point";
        case Crossed::frame:
            return "frame";
        case Crossed::lens:
            return "lens";
        case Crossed::glare:
            return "glare";
    }
    return "";
}

const std::string& name_of(const Crossing& c, const WayAnswer& a) {
    const room::Room& room = a.study.room();
    switch (c.what) {
        case Crossed::mark:
            return room.marks[c.index].name;
        case Crossed::object:
            return room.objects[c.index].name;
        case Crossed::point:
            return a.points[c.index].name;
        case Crossed::frame:
        case Crossed::lens:
        case Crossed::glare:
            break;
    }
    return room.cameras[c.index].name;
}

std::string subject(const Crossing& c, const WayAnswer& a) {
    const std::string& name = name_of(c, a);
    switch (c.what) {
        case Crossed::mark:
        case Crossed::object:
        case Crossed::point:
            return fmt::format("on {} {}", word(c.what), name);
        case Crossed::frame:
            return "in the frame of " + name;
        case Crossed::lens:
            return c.sun_in_frame ? "SUN IN THE FRAME of " + name : "sun on the lens of " + name;
        case Crossed::glare:
            return fmt::format("mirrored to {} by {}", name,
                               c.surface ? room::words(*c.surface, a.study.room()) : "a surface");
    }
    return {};
}

/// "08:44 to 15:38, 1.0 cm/min".
std::string crossing_times(const Crossing& c, const WayAnswer& a) {
    std::string text = words::clock_outward(c.span, a.study.location().site.zone);
    if (c.what == Crossed::lens)
        text += fmt::format(", as near as {:.0f} degrees to its axis", c.off_axis.in_degrees());
    if (c.speed_m_per_min) text += ", " + words::speed(*c.speed_m_per_min, a.units);
    return text;
}

}  // namespace

Paragraphs way_page(const WayAnswer& answer) {
    Paragraphs out;
    if (answer.crossings.empty()) {
        out.push_back({fmt::format("{}: no window's sun meets a mark, an object, a frame or a lens",
                                   words::row_date(answer.date))});
        return out;
    }
    std::optional<std::size_t> window;
    std::string last;
    for (const Crossing& c : answer.crossings) {
        if (window != c.window)
            out.push_back({"sun through " + answer.study.room().windows[c.window].name + ':'});
        const std::string what = subject(c, answer);
        if (window == c.window && what == last)
            out.back().text += "; " + crossing_times(c, answer);
        else
            out.push_back({what + ' ' + crossing_times(c, answer), 2, 4});
        window = c.window;
        last = what;
    }
    return out;
}

Paragraphs way_foot(const std::vector<WayAnswer>& answers) {
    const auto any = [&](auto which) {
        return std::ranges::any_of(
            answers, [&](const WayAnswer& a) { return std::ranges::any_of(a.crossings, which); });
    };
    Paragraphs out;
    if (any([](const Crossing& c) { return c.speed_m_per_min.has_value(); }))
        out.push_back({"speed: of the patch's middle where it lies, half-way through"});
    if (any([](const Crossing& c) { return c.what == Crossed::glare; }))
        out.push_back(
            {"mirrored: if that surface shines; wet it, wax it or lay glass on it and it does"});
    out.push_back({sun_caution, 0, 0});
    return out;
}

Json json_of(const WayAnswer& answer) {
    const room::Room& room = answer.study.room();
    const site::Zone& zone = answer.study.location().site.zone;
    Json list = Json::array();
    for (const Crossing& c : answer.crossings) {
        Json j;
        j["window"] = room.windows[c.window].name;
        j["crosses"] = word(c.what);
        j["name"] = name_of(c, answer);
        j["start_utc"] = utc(c.span.from);
        j["end_utc"] = utc(c.span.to);
        j["start_local"] = site::iso_local(c.span.from, zone, fraction_digits);
        j["end_local"] = site::iso_local(c.span.to, zone, fraction_digits);
        j["speed_m_per_min"] = c.speed_m_per_min ? Json(rounded(*c.speed_m_per_min)) : Json();
        j["off_axis_deg"] =
            c.what == Crossed::lens ? Json(rounded(c.off_axis.in_degrees())) : Json();
        j["sun_in_frame"] = c.what == Crossed::lens ? Json(c.sun_in_frame) : Json();
        j["surface"] = c.surface ? Json(room::words(*c.surface, room)) : Json();
        list.push_back(std::move(j));
    }
    return list;
}

}  // namespace keyhour::tell
