#pragma once
// How far a long run is, on one line of a terminal that is drawn over itself.

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <iosfwd>
#include <optional>
#include <string>

namespace keyhour::cli {

class Progress {
public:
    /// @param is_shown  the stream is a terminal
    /// @param total  none: shows only at the end
    Progress(std::ostream& err, bool is_shown, std::optional<std::size_t> total)
        : err_{err}, is_shown_{is_shown}, total_{total} {}
    ~Progress() { clear(); }
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    /// Draws the line anew, ten times a second at most.
    void show(std::size_t done, std::uint64_t refused);
    /// Takes the line away, so that a message can stand in its place.
    void clear();

private:
    void draw(const std::string& line);

    std::ostream& err_;
    bool is_shown_, is_drawn_ = false;
    std::optional<std::size_t> total_;
    std::chrono::steady_clock::time_point last_{};
};

}  // namespace keyhour::cli
