#pragma once
// The section while it is drawn. Its parts: section_drawing.cpp (what is seen, how it fits, foot),
// section_building.cpp (the shell and what stands outside), section_light.cpp (rays, mark, stands,
// measures).

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "figures.hpp"
#include "labels.hpp"
#include "plan_extent.hpp"
#include "section_drawing.hpp"
#include "title_block.hpp"
#include "words/length.hpp"

namespace keyhour::draw {

struct Ray {
    Instant at;
    std::string clock;
    const char* dash;
    double slope;                                       // rise per metre outward
    std::optional<std::pair<double, double>> on_floor;  // metres outward, least and most
    bool enters = false;                                // the sun lands in the room
    bool lights_mark = false;                           // in part at least
};

/// What stands outside, before this window.
struct Block {
    std::string name;
    double near, far, top;  // metres outward from the wall's inner face; z
    bool is_aside;          // no part of it stands before the window
};

class SectionSheet {
public:
    SectionSheet(const study::RoomStudy& study, const SectionContent& content,
                 const DrawingFrame& frame);

    std::string draw();

private:
    static constexpr double kBackWall = 0.3;
    static constexpr double kCeiling = 0.25;  ///< drawn thickness of floor and ceiling, m
    static constexpr double kLane = 3.9;      ///< from patch to patch under the floor, mm

    [[nodiscard]] double outward(Point2 p) const { return dot(p - wall_.left_corner, wall_.n); }
    [[nodiscard]] Point2 at(double w, double z) const {
        return {left_ + k_ * (w - inner_), floor_ - k_ * z};
    }
    [[nodiscard]] std::string told(double metres) const {
        return words::length(metres, frame_.units);
    }
    [[nodiscard]] std::string figure(double metres) const {
        return draw::figure(metres, frame_.units);
    }
    [[nodiscard]] double head() const { return window_.sill_m + window_.height_m; }
    [[nodiscard]] double reveal() const { return window_.reveal_m; }
    [[nodiscard]] std::vector<Ray> rays() const;
    [[nodiscard]] std::string description() const;
    [[nodiscard]] std::vector<SectionStand> stands() const;
    [[nodiscard]] bool is_aside(double along, double w) const;
    [[nodiscard]] std::vector<Block> blocks() const;
    [[nodiscard]] double depth_of_room() const;
    [[nodiscard]] double depth_needed() const;
    [[nodiscard]] std::string side_of(const Block& b) const;
    [[nodiscard]] bool narrow() const { return frame_.width_mm < 130; }
    [[nodiscard]] std::string measures() const;
    void add_lamp(TitleBlock& b) const;
    [[nodiscard]] TitleBlock block() const;
    void fit();
    void draw_outside();
    void draw_block(const Block& block, const std::string& side);
    void draw_far_block(const Block& block, const std::string& side);
    void draw_shell();
    void draw_opening();
    void keep_shell_free(double back, double top);
    void draw_rays();
    void draw_lamp_rays();
    void draw_ray(const Ray& ray, Point2 through, bool upper);
    [[nodiscard]] Point2 half_of_mark() const;
    void draw_mark();
    void draw_stands();
    void draw_dimensions();
    void upright(double w, double from, double to, const std::string& text);
    void label();

    const study::RoomStudy& study_;
    const room::Room& room_;
    const SectionContent& content_;
    const DrawingFrame& frame_;
    const room::Window& window_;
    const room::Mark& mark_;
    room::WallFrame wall_;
    double thick_, ground_;
    std::vector<Ray> rays_;
    std::vector<SectionStand> stands_;
    Svg svg_;
    Labels labels_;
    /// Put last, when all lines to be avoided are known.
    struct Wanted {
        std::vector<std::string> lines;
        Labels::Wish wish;
        bool is_news = true;  ///< said nowhere else
    };
    std::vector<Wanted> wanted_;
    std::vector<Block> blocks_;
    double inner_ = 0, outer_ = 0;  // ends of what is shown, metres outward
    double left_ = 0, floor_ = 0, k_ = 10, paper_bottom_ = 0;
    double depth_ = 0;                   ///< of the room as drawn, metres
    bool is_broken_ = false;             ///< the room goes on beyond
    std::vector<std::string> unplaced_;  ///< labels for which the drawing has no room
    std::string far_block_;  ///< what stands beyond the paper, where the drawing has no room to say
};

}  // namespace keyhour::draw
