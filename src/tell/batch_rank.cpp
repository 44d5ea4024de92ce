#include "batch_rank.hpp"

#include <fmt/format.h>

namespace keyhour::tell {

std::string ranked_csv_head(std::string plain) {
    return plain.insert(plain.rfind("\r\n"), ",rank");
}

std::string ranked_csv(const std::string& records, std::size_t rank) {
    std::string out;
    for (std::size_t at = 0; at < records.size();) {
        const std::size_t end = records.find("\r\n", at);
        out += fmt::format("{},{}\r\n", records.substr(at, end - at), rank);
        at = end + 2;
    }
    return out;
}

std::string ranked_json(const std::string& line, std::size_t rank) {
    return fmt::format("{},\"rank\":{}}}\n", line.substr(0, line.rfind('}')), rank);
}

}  // namespace keyhour::tell
