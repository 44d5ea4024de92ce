#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "parts.hpp"

namespace keyhour::read {
namespace {

constexpr LengthRule tree_height_rule{0, 150, true, 60};
constexpr LengthRule crown_rule{0, 100, true, 40};
const char* const leaf_form =
    "accepted: the first and the last month in leaf, as in [\"05\", \"10\"] or [\"May\", "
    "\"October\"]; [\"01\", \"12\"] for an evergreen";

std::optional<date::month> month_of(const std::string& text) {
    constexpr std::array names{"January",   "February", "March",    "April",
                               "May",       "June",     "July",     "August",
                               "September", "October",  "November", "December"};
    const auto lower = [](std::string word) {
        for (char& c : word)
            if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        return word;
    };
    for (unsigned i = 0; i < names.size(); ++i)
        if (lower(text) == lower(names[i]) || text == fmt::format("{:02}", i + 1))
            return date::month{i + 1};
    return std::nullopt;
}

void read_leaf(Fields& f, site::Tree& tree) {
    const auto months = f.names("leaf", Need::optional);
    if (!f.has("leaf"))
        return f.complain_missing("leaf", "\"leaf\" is missing in " + f.label(), leaf_form);
    if (!months) return;
    std::array<std::optional<date::month>, 2> read;
    if (months->size() == 2) read = {month_of((*months)[0]), month_of((*months)[1])};
    if (!read[0] || !read[1]) {
        f.complain("leaf", f.shown("leaf") + " is not two months", leaf_form);
        return;
    }
    tree.first_leaf = *read[0];
    tree.last_leaf = *read[1];
}

void read_crown(Fields& f, site::Tree& tree) {
    const bool outlined = f.has("footprint"), round = f.has("at") || f.has("crown_m");
    if (outlined == round) {
        f.complain_missing(outlined ? (f.has("at") ? "at" : "crown_m") : "name",
                           fmt::format("{} has {}", f.label(),
                                       outlined ? "both footprint and at or crown_m"
                                                : "neither footprint nor at and crown_m"),
                           "accepted: footprint = [[x, y], ...], or at = [x, y] and crown_m, the "
                           "crown's width");
    }
    if (const auto corners =
            f.corners("footprint", outlined && !round ? Need::required : Need::optional))
        for (const Coordinates& c : *corners)
            tree.footprint.push_back(c.at);
    const Need need = round && !outlined ? Need::required : Need::optional;
    const auto at = f.point("at", need);
    const auto crown = f.length("crown_m", need, crown_rule);
    if (at && crown && !outlined) tree.footprint = site::round_crown(at->at, *crown);
}

}  // namespace

site::Tree read_tree(Fields& f, const std::string& name) {
    site::Tree tree;
    tree.name = name;
    read_crown(f, tree);
    tree.height_m = f.length("height_m", Need::required, tree_height_rule).value_or(0);
    tree.opacity = f.number("opacity", Need::optional, {0, 1}).value_or(tree.opacity);
    tree.bare_opacity = f.number("opacity_bare", Need::optional, {0, 1})
                            .value_or(std::min(tree.bare_opacity, tree.opacity));
    if (f.sound() && tree.bare_opacity > tree.opacity)
        f.complain("opacity_bare",
                   f.shown("opacity_bare") + fmt::format(", in leaf {:g}", tree.opacity),
                   "accepted: a bare tree keeps back no more than one in leaf");
    tree.within_m = f.length("within_m", Need::optional, place_within_rule);
    read_leaf(f, tree);
    return tree;
}

}  // namespace keyhour::read
