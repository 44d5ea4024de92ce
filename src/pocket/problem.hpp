#pragma once
// Why a request has no answer, for the field of a form that it is about.

#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace keyhour::pocket {

struct Problem {
    int line = 0, column = 0;  ///< of the location's text, from 1; 0: it is about no place there
    std::string field;         ///< "window.south.width_m", or a member of the request; may be empty
    std::string text;
};
using Problems = std::vector<Problem>;

template <class T>
using Reply = tl::expected<T, Problems>;

inline tl::unexpected<Problems> refused(std::string field, std::string text) {
    return tl::unexpected{Problems{{0, 0, std::move(field), std::move(text)}}};
}

}  // namespace keyhour::pocket
