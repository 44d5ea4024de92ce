#pragma once
/// @file
/// The slider of the light sheet's page: its steps, what stands about it, and the data from which
/// the page's script shows a step.

#include <string>
#include <vector>

#include "draw/plan_drawing.hpp"
#include "draw/strip_drawing.hpp"
#include "sheet_content.hpp"

namespace keyhour::tell {

struct ShownStep {
    const study::SheetStep* step;  ///< of the content's day
    Instant at;                    ///< as the clock shows it
    std::string change;            ///< of light, in words; or nothing
};

/// All of the day's steps, or as many fewer, evenly, as a phone takes readily (many panes make many
/// outlines), and each change of light at its own second; ascending in time.
[[nodiscard]] std::vector<ShownStep> slider_steps(const SheetContent& c);

/// Clock, slider and buttons.
[[nodiscard]] std::string slider(const SheetContent& c, const std::vector<ShownStep>& steps);
/// What follows the slider, below the plan: a phone shows slider and plan together.
[[nodiscard]] std::string slider_reading(const SheetContent& c);

/// How metres and hours lie on what the script draws over.
struct SliderDrawings {
    draw::PlanScale wide_plan, narrow_plan;
    draw::StripScale wide_strip, narrow_strip;
};
/// A script element of JSON.
[[nodiscard]] std::string slider_data(const SheetContent& c, const std::vector<ShownStep>& steps,
                                      const SliderDrawings& drawings);

}  // namespace keyhour::tell
