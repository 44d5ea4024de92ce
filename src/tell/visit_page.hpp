#pragma once
/// @file
/// Several rooms on one day, in the order of the plan: in words, as JSON and as CSV.

#include <span>
#include <string>

#include "document.hpp"
#include "keyhour/ask/visit.hpp"
#include "paragraph.hpp"

namespace keyhour::tell {

/// The plans, the places that they visit and what was asked.
struct VisitAnswer {
    std::span<const ask::VisitDay> days;
    std::span<const ask::BriefPlace> places;
    study::VisitSettings settings;
};

/// A block a date, then what the words mean.
[[nodiscard]] Paragraphs visit_page(const VisitAnswer& answer);

/// A document a date.
[[nodiscard]] std::vector<Json> visit_documents(const VisitAnswer& answer);

[[nodiscard]] std::string visit_csv_head();
/// A record a stop.
[[nodiscard]] std::string visit_csv_records(const VisitAnswer& answer);

}  // namespace keyhour::tell
