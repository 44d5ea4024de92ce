#include "terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <cstring>
#include <ostream>

namespace keyhour::cli {
namespace {

/// Where a stream keeps its columns; zero there means that nobody has set them.
int place() {
    static const int index = std::ios_base::xalloc();
    return index;
}

std::size_t columns_of_environment() {
    const char* text = std::getenv("COLUMNS");
    std::size_t columns = 0;
    if (text != nullptr) std::from_chars(text, text + std::strlen(text), columns);
    return columns;
}

}  // namespace

std::size_t line_columns(std::ostream& out) {
    const long set = out.iword(place());
    return set > 0 ? static_cast<std::size_t>(set) : widest_line;
}

void set_line_columns(std::ostream& out, std::size_t columns) {
    out.iword(place()) = static_cast<long>(std::clamp(columns, narrowest_line, widest_line));
}

std::size_t terminal_columns(int handle) {
    if (const std::size_t said = columns_of_environment(); said > 0) return said;
    winsize size{};
    if (::isatty(handle) == 1 && ::ioctl(handle, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        return size.ws_col;
    return widest_line;
}

}  // namespace keyhour::cli
