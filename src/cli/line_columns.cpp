#include <algorithm>
#include <ostream>

#include "terminal.hpp"

namespace keyhour::cli {
namespace {

/// Where a stream keeps its columns; zero there means that nobody has set them.
int place() {
    static const int index = std::ios_base::xalloc();
    return index;
}

}  // namespace

std::size_t line_columns(std::ostream& out) {
    const long set = out.iword(place());
    return set > 0 ? static_cast<std::size_t>(set) : widest_line;
}

void set_line_columns(std::ostream& out, std::size_t columns) {
    out.iword(place()) = static_cast<long>(std::clamp(columns, narrowest_line, widest_line));
}

}  // namespace keyhour::cli
