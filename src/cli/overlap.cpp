#include "overlap.hpp"

#include "read/rigging_file.hpp"

namespace keyhour::cli {

double overlap_of(const std::string& file, const read::Changes& changes) {
    if (file.empty()) return site::usual_overlap_m;
    const auto rigging = read::read_rigging(file, changes);
    return rigging ? rigging->overlap_m : site::usual_overlap_m;
}

}  // namespace keyhour::cli
