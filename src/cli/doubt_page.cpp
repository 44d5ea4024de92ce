#include "doubt_page.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <cmath>
#include <ostream>

#include "tell/doubt_documents.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

/// Inputs of less effect are named in one line.
constexpr double told_from = 0.01;

/// Promised minutes are rounded down.
std::string at_least(Seconds hold) {
    return in_minutes(Seconds{60 * std::floor(hold.count() / 60)});
}

}  // namespace

std::string hold_doubt_text(const study::HoldDoubt& doubt, const site::Zone& zone) {
    const std::string text = "with all doubts: " + tell::words(doubt);
    if (doubt.share == 0) return text;
    return text + fmt::format("; starts {}, ends {}", span_outward(doubt.begins, zone),
                              span_outward(doubt.ends, zone));
}

void print_doubt_meaning(std::ostream& out) {
    print_wrapped(out,
                  "cases: the room with every figure moved within its doubt; check lists the "
                  "doubts, and --why-unsure ranks what to measure better.",
                  0, 0);
}

std::string remedy(const study::InputEffect& effect, const room::Room& room) {
    using study::Input;
    const std::string what = tell::words(effect, room);
    switch (effect.input) {
        case Input::bearing:
            return "a surer bearing";
        case Input::skyline:
            return "surveying the skyline";
        case Input::heights_outside:
            return "measuring the heights outside";
        case Input::refraction:
        case Input::clock:
            return "a surer " + what;
        case Input::mark_place:
            return "fixing the " + what;
        default:
            break;
    }
    return "taping the " + what;
}

void print_why(const std::vector<study::InputEffect>& effects, const room::Room& room,
               std::ostream& out) {
    out << "\nwhat to measure better: the part of the doubt that would go with it\n";
    if (effects.empty() || effects.front().share < told_from) {
        out << "  nothing: no figure's doubt moves a hold\n";
        return;
    }
    std::size_t rest = 0;
    for (std::size_t i = 0; i < effects.size(); ++i) {
        const study::InputEffect& e = effects[i];
        if (e.share < told_from) {
            ++rest;
            continue;
        }
        print_wrapped(out,
                      fmt::format("{}. {:.0f} %: {} (now known to {} either way); kept in 9 of 10 "
                                  "cases {}, then {}{}",
                                  i + 1, 100 * e.share, remedy(e, room), tell::within_words(e),
                                  at_least(e.kept_90), at_least(e.kept_90_if_known),
                                  e.intervals > 1 ? ", on average" : ""),
                      2, 6);
    }
    if (rest > 0)
        fmt::print(out, "  {} other figure{}: less than 1 % each\n", rest, rest == 1 ? "" : "s");
    print_wrapped(out,
                  "Kept: how much of the stated interval holds too, by the clock. Each is asked by "
                  "itself, known exactly, all others as they are: the parts do not add up to 100.",
                  0, 0);
}

}  // namespace keyhour::cli
