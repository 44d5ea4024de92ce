#include "terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <charconv>
#include <cstdlib>
#include <cstring>

namespace keyhour::cli {
namespace {

std::size_t columns_of_environment() {
    const char* text = std::getenv("COLUMNS");
    std::size_t columns = 0;
    if (text != nullptr) std::from_chars(text, text + std::strlen(text), columns);
    return columns;
}

}  // namespace

std::size_t terminal_columns(int handle) {
    if (const std::size_t said = columns_of_environment(); said > 0) return said;
    winsize size{};
    if (::isatty(handle) == 1 && ::ioctl(handle, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        return size.ws_col;
    return widest_line;
}

}  // namespace keyhour::cli
