#pragma once
/// @file
/// Whole answers of study, kept beside its tests (support/recorded.hpp).

#include <string>

#include "support/recorded.hpp"

namespace keyhour::study {

/// @see test::Record; @param name  of the file in study/recorded, without its ending
class Record : public test::Record {
public:
    explicit Record(const std::string& name) : test::Record{"study/recorded/" + name} {}
};

}  // namespace keyhour::study
