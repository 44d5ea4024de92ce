#include "progress.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>
#include <string>

#include "words/guarded_stream.hpp"

namespace keyhour::cli {

void Progress::show(std::size_t done, std::uint64_t refused) {
    if (!is_shown_) return;
    const auto now = std::chrono::steady_clock::now();
    if (is_drawn_ && now - last_ < std::chrono::milliseconds{100}) return;
    last_ = now;
    is_drawn_ = true;
    std::string line = "\r";
    if (total_ && *total_ > 0) {
        constexpr std::size_t width = 30;
        const std::size_t filled = width * std::min(done, *total_) / *total_;
        line += '[' + std::string(filled, '#') + std::string(width - filled, '.') + "] " +
                fmt::format("{} of {} places", done, *total_);
    } else {
        line += fmt::format("{} places", done);
    }
    if (refused > 0) line += fmt::format(", {} refused", refused);
    draw(line);
}

void Progress::draw(const std::string& line) {
    std::ostream terminal{words::GuardedBuffer::behind(err_)};  // it steers the terminal itself
    terminal << line << "\x1b[K" << std::flush;  // ECMA-48: erase to the end of the line
}

void Progress::clear() {
    if (is_drawn_) draw("\r");
    is_drawn_ = false;
}

}  // namespace keyhour::cli
