#include "calendar_file.hpp"

#include <charconv>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string_view>

#include "date_options.hpp"
#include "own_output.hpp"

namespace keyhour::cli {

std::string earlier_calendar(const std::string& path) {
    if (path.empty() || !is_own_output(path)) return {};
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

Instant calendar_made_at() {
    const char* epoch = std::getenv("SOURCE_DATE_EPOCH");
    const std::string_view text = epoch != nullptr ? epoch : "";
    long long unix_seconds = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), unix_seconds);
    const bool whole = read.ec == std::errc{} && read.ptr == text.data() + text.size();
    return whole ? Instant::from_unix_s(static_cast<double>(unix_seconds)) : now();
}

}  // namespace keyhour::cli
