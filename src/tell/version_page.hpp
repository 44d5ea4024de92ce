#pragma once
/// @file
/// What this program is and what data it has, in words and as JSON: build, magnetic model, zones,
/// leap seconds, and what of them is out of date.

#include "keyhour/site/zone.hpp"
#include "site/reference_data.hpp"
#include "tell/build_facts.hpp"
#include "tell/document.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

struct VersionFacts {
    BuildFacts build;
    site::ReferenceData data;
    site::LocalDate today{};  ///< UTC
};

[[nodiscard]] Paragraphs version_page(const VersionFacts& facts);
[[nodiscard]] Json version_document(const VersionFacts& facts);

}  // namespace keyhour::tell
