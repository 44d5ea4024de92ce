#pragma once
// The plan while it is drawn. Its parts: plan_drawing.cpp (what is outside, signs, foot),
// plan_room.cpp (walls and openings), plan_patches.cpp, plan_equipment.cpp (cameras, lamps, places
// outside), plan_labels.cpp (words and where they stand).

#include <optional>
#include <string>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/study/patch_day.hpp"
#include "labels.hpp"
#include "plan_drawing.hpp"
#include "plan_extent.hpp"
#include "title_block.hpp"

namespace keyhour::draw {

struct HourPatches {
    Instant at;
    std::string label;
    Hatch hatch;
    study::PatchInstant now, later;
};

class PlanSheet {
public:
    PlanSheet(const site::Location& location, const study::RoomStudy* room,
              const PlanContent& content, const DrawingFrame& frame)
        : location_{location},
          study_{room},
          content_{content},
          frame_{frame},
          extent_{plan_extent(location, frame)},
          svg_{frame, title(), description()},
          labels_{extent_.paper.grown(-1)} {}

    PlanDrawing draw();

private:
    [[nodiscard]] std::string title() const { return "Plan of " + location_.site.name; }
    [[nodiscard]] std::string description() const;
    [[nodiscard]] TitleBlock block() const;
    [[nodiscard]] std::vector<KeyEntry> key() const;
    [[nodiscard]] std::vector<std::string> notes() const;
    [[nodiscard]] Point2 at(Point2 p) const { return extent_.at(p); }
    /// A phone's column has no room for all that paper has.
    [[nodiscard]] bool narrow() const { return frame_.width_mm < 130; }
    [[nodiscard]] double k() const { return extent_.scale.mm_per_m; }

    void prepare_hours();
    void draw_surroundings();
    void draw_building(const room::Ring& footprint, const Stroke& stroke, bool is_tree,
                       const std::string& label, bool must);
    void name(const std::vector<std::string>& lines, Labels::Wish wish);
    void number(const std::vector<std::string>& lines, const Labels::Wish& wish);
    [[nodiscard]] std::size_t floor_patches() const;
    [[nodiscard]] bool is_largest(const HourPatches& hour, const study::WindowPatch& p) const;
    void draw_room();
    void draw_walls();
    void draw_opening(const room::Window& window);
    void draw_cover(const room::Window& window);
    void draw_patches(const HourPatches& hour);
    void draw_wall_patch(const HourPatches& hour, const study::WindowPatch& p);
    void draw_travel(const HourPatches& hour, const study::WindowPatch& p);
    void draw_fields();
    void draw_symbols();
    void draw_lamps();
    void draw_lamp_key();
    [[nodiscard]] std::optional<Point2> lamp_aim(const site::Lamp& lamp) const;
    [[nodiscard]] bool is_on_paper(Point2 p) const;
    [[nodiscard]] double off_room(const room::Ring& there) const;
    void go_beyond(Point2 at, double away, const std::string& label);
    [[nodiscard]] double magnetic_east_deg() const;
    [[nodiscard]] std::string norths_in_words() const;
    void draw_corner_signs();
    void draw_far();
    void label_all();
    void label_hours(bool largest);
    void label_marks_and_cameras();
    void name_mark(const std::vector<std::string>& lines, Labels::Wish wish);
    [[nodiscard]] std::vector<std::string> words_of_mark(std::size_t mark) const;
    void label_objects();
    [[nodiscard]] std::vector<std::string> words_of(std::size_t window, bool tall) const;
    void label_windows(std::size_t wall);
    void label_walls();
    void draw_spots();
    void keep_camera_free(Point2 here, Point2 toward);
    [[nodiscard]] Point2 aim_of(const room::Camera& camera) const;
    [[nodiscard]] Point2 on_paper(Azimuth bearing) const;
    [[nodiscard]] static Point2 on_paper(Point2 u) { return {u.x, -u.y}; }
    [[nodiscard]] double solid_middle(std::size_t wall) const;
    [[nodiscard]] double sight(Point2 from, Point2 u) const;

    const site::Location& location_;
    const study::RoomStudy* study_;
    const PlanContent& content_;
    const DrawingFrame& frame_;
    PlanExtent extent_;
    Svg svg_;
    Labels labels_;
    std::vector<HourPatches> hours_;
    struct WallBar {
        std::size_t wall, lane;
        double from, to;
    };
    std::vector<WallBar> bars_;

    struct Wanted {
        std::vector<std::string> lines;
        Labels::Wish wish;
        bool must = true;     ///< a number, if there is no room for words
        bool largest = true;  ///< of an hour's patches
    };
    std::vector<Wanted> hour_labels_, building_labels_, lamp_labels_, spot_labels_, far_labels_;
    struct Far {
        double distance;
        Point2 toward;
        std::string label;
    };
    std::vector<Far> far_;
    static constexpr std::size_t kFarNamed = 6;  ///< of them, the nearest
    std::vector<std::string> numbered_, unplaced_;
    std::vector<std::string> lit_marks_;  ///< when, where beside the mark there is no room to say
};

}  // namespace keyhour::draw
