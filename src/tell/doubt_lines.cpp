#include "tell/doubt_lines.hpp"

#include <fmt/format.h>

#include "tell/doubt_documents.hpp"
#include "words/clock.hpp"

namespace keyhour::tell {
namespace {

/// Inputs of less effect are named in one line.
constexpr double told_from = 0.01;

std::string ranked(std::size_t place, const study::InputEffect& e, const room::Room& room,
                   site::Units units) {
    return fmt::format(
        "{}. {:.0f} %: {} (now known to {} either way); kept in 9 of 10 cases {}, then {}{}", place,
        100 * e.share, remedy(e, room), within_words(e, units), words::at_least(e.kept_90),
        words::at_least(e.kept_90_if_known),
        e.intervals > 1 ? fmt::format(", on average of {} keys", e.intervals) : std::string{});
}

}  // namespace

std::string hold_doubt_text(const study::HoldDoubt& doubt, const site::Zone& zone) {
    const std::string text = "with every doubt: " + tell::words(doubt);
    if (doubt.share == 0) return text;
    return text + (doubt.lit_90 ? "; " + lit_words(doubt, zone) : std::string{}) +
           fmt::format("; starts {}, ends {}", words::span_outward(doubt.begins, zone),
                       words::span_outward(doubt.ends, zone));
}

std::string cases_words(const study::HoldDoubt& doubt, const site::Zone& zone) {
    const std::string text = brief_words(doubt);
    if (!doubt.lit_90) return text;
    return fmt::format("{}, lit {} in as many", text, words::clock_inward(*doubt.lit_90, zone));
}

std::string lit_words(const study::HoldDoubt& doubt, const site::Zone& zone) {
    if (!doubt.lit_90) return brief_words(doubt);
    return fmt::format("lit {} in 9 of 10 cases", words::clock_inward(*doubt.lit_90, zone));
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
        case Input::camera_place:
            return "fixing the " + what;
        case Input::places_outside:
            return "taping to what stands outside";
        default:
            break;
    }
    return "taping the " + what;
}

Paragraphs why_lines(const std::vector<study::InputEffect>& effects, const room::Room& room,
                     site::Units units) {
    Paragraphs out{{"what to measure better: the part of the doubt that would go with it"}};
    if (effects.empty() || effects.front().share < told_from) {
        out.push_back({"nothing: no figure's doubt moves a hold", 2});
        return out;
    }
    std::size_t rest = 0;
    for (std::size_t i = 0; i < effects.size(); ++i)
        if (effects[i].share < told_from)
            ++rest;
        else
            out.push_back({ranked(i + 1, effects[i], room, units), 2, 5});
    if (rest > 0)
        out.push_back(
            {fmt::format("{} other figure{}: less than 1 % each", rest, rest == 1 ? "" : "s"), 2});
    out.push_back(
        {"Kept: how much of the stated interval holds too, by the clock. Each is asked by "
         "itself, known exactly, all others as they are: the parts do not add up to 100.",
         0, 0});
    return out;
}

}  // namespace keyhour::tell
