#pragma once
// An SVG document as it is written: shapes, text, hatches. Numbers are millimetres with two
// decimals, whatever the locale.

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "drawing.hpp"

namespace keyhour::draw {

using room::Point2;

/// Widths of line, mm. Nothing thinner: a photocopier loses it.
namespace pen {
inline constexpr double wall = 0.7, opening = 0.45, object = 0.35, thin = 0.25, fine = 0.2;
}

/// Heights of letters, mm (of the em): capitals are 0.72 of it, 2.3 mm at least.
namespace letters {
inline constexpr double title = 5, usual = 3.4, small = 3.2;
}

/// "12.3": two decimals at most, never "-0".
[[nodiscard]] std::string number(double value);

/// For text and attribute values alike: the five marks of XML as entities; what XML 1.0 forbids,
/// and bytes that are no UTF-8, as U+FFFD.
[[nodiscard]] std::string escaped(std::string_view text);

/// Width of a line of text, mm, with the widest of the usual faces (DejaVu Sans; Verdana is as
/// wide): Helvetica and its kin are a sixth narrower.
[[nodiscard]] double text_width(std::string_view text, double size_mm, bool bold = false);

/// The text, or as much of it as fits, ending with an ellipsis.
[[nodiscard]] std::string fitted(std::string_view text, double size_mm, double width_mm,
                                 bool bold = false);

/// Breaks at blanks.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, double size_mm,
                                               double width_mm, bool bold = false);

enum class Anchor { start, middle, end };

/// How a text stands.
struct TextStyle {
    double size = letters::usual;
    Anchor anchor = Anchor::start;
    bool bold = false;
    bool halo = false;  ///< white round the letters, over lines
    double turn_deg = 0;
};

/// Parallel lines, lines both ways or rows of dots over a shape. They are lines of the drawing and
/// no SVG pattern: browsers print a pattern as a coarse grey picture, in which all hatches look the
/// same.
struct Hatch {
    enum class Kind { lines, crossed, dots };
    double angle_deg = 45;  ///< clockwise from the level
    double step_mm = 1.5;   ///< between lines; between dots both ways
    double line_mm = 0.22;  ///< width of a line, or of a dot
    Kind kind = Kind::lines;
};

/// A colour, or a hatch (of shapes and rectangles).
using Fill = std::variant<std::string, Hatch>;

/// How a shape is drawn.
struct Stroke {
    double width = pen::thin;
    const char* dash = "";  ///< "2 1"
    Fill fill = "none";
    bool drawn = true;  ///< its outline
};

class Svg {
public:
    Svg(DrawingFrame frame, std::string title, std::string description);

    [[nodiscard]] double width() const { return frame_.width_mm; }
    [[nodiscard]] bool in_page() const { return frame_.in_page; }

    void line(Point2 a, Point2 b, const Stroke& stroke = {});
    void polyline(const std::vector<Point2>& points, const Stroke& stroke = {});
    /// Closed outlines in one shape, holes by the even-odd rule.
    void shape(const std::vector<std::vector<Point2>>& rings, const Stroke& stroke = {},
               std::string_view more = {});
    void rect(double x, double y, double w, double h, const Stroke& stroke = {});
    void circle(Point2 c, double r, const Stroke& stroke = {});
    void path(std::string_view d, const Stroke& stroke = {});
    void text(Point2 at, std::string_view text, const TextStyle& style = {});
    /// A line with a filled head at its end.
    void arrow(Point2 from, Point2 to, const Stroke& stroke = {}, double head_mm = 2);

    /// A group with an id (the prefix is put before it), to be closed by end_group.
    void begin_group(std::string_view id, std::string_view more = {});
    void end_group();
    /// What is drawn until end_group shows within the rectangle only.
    void begin_clip(std::string_view id, double x, double y, double w, double h);

    /// The document.
    [[nodiscard]] std::string finish(double height_mm) const;

private:
    void style(const Stroke& stroke);
    void draw_hatch(const std::vector<std::vector<Point2>>& rings, const Hatch& hatch);
    void attribute(std::string_view name, std::string_view value);

    DrawingFrame frame_;
    std::string title_, description_, defs_, body_;
};

/// The lines of a hatch within closed outlines (even-odd), as the d of a path; of dots one line a
/// row, beginning on a dot. Lines lie on one grid over the whole drawing, so that shapes side by
/// side go on from each other. A crossed hatch is two of lines, a quarter turn apart.
[[nodiscard]] std::string hatch_lines(const std::vector<std::vector<Point2>>& rings,
                                      const Hatch& hatch);

}  // namespace keyhour::draw
