#pragma once
// Where labels may stand without lying on one another or on what they explain.

#include <string>
#include <vector>

#include "box.hpp"
#include "box_index.hpp"
#include "svg.hpp"

namespace keyhour::draw {

/// Labels in the order of their weight: each takes the best place that is left, nearest first.
class Labels {
public:
    explicit Labels(const Box& paper)
        : paper_{paper}, taken_{paper}, lines_{paper}, barred_{paper}, leaders_{paper} {}

    /// No label stands here.
    void keep_free(const Box& box) { taken_.add({box}); }
    /// No label lies across this line; a leader may.
    void forbid(Point2 a, Point2 b) { barred_.add({a, b, 0}); }
    void forbid(const std::vector<Point2>& ring);
    /// Labels had better not cross this line.
    void avoid(Point2 a, Point2 b, double weight = 1) { lines_.add({a, b, weight}); }
    void avoid(const std::vector<Point2>& ring, double weight = 1);
    /// A patch of light: words that name other things had better stay off it.
    void shade(std::vector<Point2> ring) { shaded_.push_back(std::move(ring)); }
    /// Is a box within the paper, off what is kept free and off every forbidden line?
    [[nodiscard]] bool is_clean(const Box& box) const;

    struct Wish {
        Point2 at;              ///< what is labelled
        double clear_mm = 1.2;  ///< from there to the label
        TextStyle style{};
        bool on_it = false;        ///< it may lie on the very place
        double most_mm = 30;       ///< no farther off
        bool must = true;          ///< else left out where no clean place is left
        Point2 toward{};           ///< the side on which it should stand, if any: a unit vector
        bool off_patches = false;  ///< where there is a place off every patch
        /// Share of it that may lie on patches; else left out, if it need not be there.
        double most_on_patches = 1;
        bool same_side = false;  ///< no forbidden line comes between it and its place
    };
    /// Draws the lines of text, with a leader where they stand away from their place.
    /// @return where it stands; an empty box if it was left out
    Box put(Svg& svg, const std::vector<std::string>& lines, const Wish& wish);
    /// Draws a number in a ring, whose meaning stands elsewhere: it finds room where words do not.
    Box put_number(Svg& svg, std::size_t number, Wish wish);

private:
    struct Line {
        Line(Point2 from, Point2 to, double w);
        Point2 a, b;
        double weight;
        Box bounds;
    };
    struct Taken {
        Box bounds;
    };
    struct Place {
        Box box;
        double cost;
    };
    [[nodiscard]] Place find(double width, double height, const Wish& wish) const;
    /// @param most  beyond it the exact cost does not matter: the sum ends there
    [[nodiscard]] double cost(const Box& box, double distance, double most) const;
    [[nodiscard]] double on_patches(const Box& box) const;
    [[nodiscard]] double leader_cost(const Box& box, const Wish& wish, double most) const;
    void take(Svg& svg, const Box& box, const Wish& wish);

    Box paper_;
    BoxIndex<Taken> taken_;
    std::vector<std::vector<Point2>> shaded_;
    BoxIndex<Line> lines_, barred_, leaders_;
};

/// The part of a..b that lies within the box, mm.
[[nodiscard]] double length_within(Point2 a, Point2 b, const Box& box);

/// Radius of the ring round a number, mm.
inline constexpr double number_ring = 2.4;

/// A number in its ring.
void draw_number(Svg& svg, Point2 middle, std::size_t number);

}  // namespace keyhour::draw
