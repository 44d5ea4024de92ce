#include "check_doubts.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

#include "keyhour/site/doubts.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

/// A taped length of a window or a mark.
struct Taped {
    const char* key;  // as the file calls it
    const char* word;
    site::LengthDoubt doubt;
};

std::vector<Taped> taped(const room::Window& window) {
    const site::WindowDoubts d = site::doubts(window);
    return {{"left_m", "left", d.left},
            {"width_m", "width", d.width},
            {"sill_m", "sill", d.sill},
            {"height_m", "height", d.height},
            {"reveal_m", "reveal", d.reveal}};
}

std::vector<Taped> taped(const room::Mark& mark) {
    const site::MarkDoubts d = site::doubts(mark);
    return {{"at", "place", d.at}, {"height_m", "height", d.height}};
}

template <class Part>
void print_taped(const Part& part, std::ostream& out) {
    std::string text = part.name + ", m: ";
    bool first = true;
    for (const Taped& t : taped(part)) {
        text += fmt::format("{}{} {:.2g}{}", first ? "" : ", ", t.word, t.doubt.within_m,
                            t.doubt.given ? "" : "*");
        first = false;
    }
    print_wrapped(out, text, 2, 6);
}

template <class Part>
void add_taped(const char* kind, const Part& part, tell::Json& list) {
    for (const Taped& t : taped(part))
        list.push_back({{"of", kind},
                        {"name", part.name},
                        {"key", t.key},
                        {"within_m", tell::rounded(t.doubt.within_m)},
                        {"given", t.doubt.given}});
}

bool anything_outside(const site::Location& location) {
    return !site::buildings(location).empty() || !location.trees.empty();
}

}  // namespace

void print_doubts(const site::Location& location, std::ostream& out) {
    out << "\nhow far each figure may be off; *: the usual, as the file does not say\n";
    if (location.room) {
        print_wrapped(
            out, fmt::format("bearing {}", in_degrees(location.room->bearing.within.in_degrees())),
            2, 6);
        for (const room::Window& window : location.room->windows)
            print_taped(window, out);
        for (const room::Mark& mark : location.room->marks)
            print_taped(mark, out);
    }
    std::string text =
        fmt::format("clocks {:g} s{}; refraction {:.0f} %*", site::clock_within_s(location),
                    location.clock_within_s ? "" : "*", 100 * site::usual_refraction_within);
    if (const Angle skyline = site::horizon_within(location.site); skyline > Angle{})
        text += fmt::format("; skyline {}*", in_degrees(skyline.in_degrees()));
    if (anything_outside(location))
        text += fmt::format("; heights outside {:.0f} %*", 100 * site::usual_building_within);
    print_wrapped(out, text, 2, 6);
}

tell::Json json_of_doubts(const site::Location& location) {
    tell::Json list = tell::Json::array();
    if (location.room) {
        for (const room::Window& window : location.room->windows)
            add_taped("window", window, list);
        for (const room::Mark& mark : location.room->marks)
            add_taped("mark", mark, list);
    }
    const auto add = [&](const char* of, const char* figure, double within, bool given) {
        list.push_back({{"of", of}, {figure, tell::rounded(within)}, {"given", given}});
    };
    add("clock", "within_s", site::clock_within_s(location), location.clock_within_s.has_value());
    add("refraction", "within_percent", 100 * site::usual_refraction_within, false);
    if (const Angle skyline = site::horizon_within(location.site); skyline > Angle{})
        add("skyline", "within_deg", skyline.in_degrees(), false);
    if (anything_outside(location))
        add("heights outside", "within_percent", 100 * site::usual_building_within, false);
    return list;
}

}  // namespace keyhour::cli
