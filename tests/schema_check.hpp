#pragma once
// Does a document keep to its JSON Schema (draft-07, tests/schema)?

#include <string>

/// @param name  of tests/schema/NAME.schema.json
/// @return empty if `document` is one JSON document that keeps to the schema; else what is wrong
std::string schema_faults(const std::string& name, const std::string& document);
