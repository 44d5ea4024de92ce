// Outlines cut into convex pieces, against points of the outline.

#include "room/convex_pieces.hpp"

#include <catch2/catch.hpp>

#include "support/face.hpp"
#include "support/random_room.hpp"

using namespace keyhour;
using keyhour::test::Dice;
using room::Corners;
using room::Point2;
using room::Ring;

namespace {

std::vector<Ring> pieces_of(Ring ring) {
    std::vector<Ring> pieces;
    room::for_each_convex_piece(std::span{ring}, [&](const Corners& corners) {
        pieces.emplace_back(corners.begin(), corners.end());
    });
    return pieces;
}

/// Every point of the outline lies in one piece, every other in none; pieces turn left.
void check_pieces(Dice& dice, const Ring& ring, double size_m) {
    const auto pieces = pieces_of(ring);
    double sum = 0;
    for (const Ring& piece : pieces) {
        CHECK(piece.size() >= 3);
        CHECK(piece.size() <= 8);
        for (std::size_t i = 0, n = piece.size(); i < n; ++i)
            CHECK(cross(piece[(i + 1) % n] - piece[i], piece[(i + 2) % n] - piece[(i + 1) % n]) >
                  -1e-9);
        sum += room::signed_area(piece);
    }
    CHECK(sum == Approx(std::abs(room::signed_area(ring))));
    for (int k = 0; k < 40; ++k) {
        const double x = dice.between(-size_m, size_m);
        const Point2 p{x, dice.between(-size_m, size_m)};
        int found = 0;
        bool is_near = test::distance_to_edges({ring}, p) < 1e-7;
        for (const Ring& piece : pieces) {
            found += test::inside({piece}, p) ? 1 : 0;
            is_near = is_near || test::distance_to_edges({piece}, p) < 1e-7;
        }
        if (!is_near) CHECK(found == (test::inside({ring}, p) ? 1 : 0));
    }
}

}  // namespace

TEST_CASE("an outline's pieces are convex and together the outline", "[room]") {
    for (unsigned n = 0; n < 400; ++n) {
        Dice dice{91000 + n};
        CAPTURE(n);
        check_pieces(dice, test::shuffled(dice, test::outline(dice, 2)), 4);
    }
}

TEST_CASE("an outline that needs no cutting stays one piece, one of many corners a few", "[room]") {
    CHECK(pieces_of({{0, 0}, {2, 0}, {2, 1}, {0, 1}}).size() == 1);
    CHECK(pieces_of({{0, 0}, {0, 1}, {2, 1}, {2, 0}}).size() == 1);
    // A corner in line, and one a hair inward of it, which the sides' rounding gives.
    CHECK(pieces_of({{0, 0}, {1, 0}, {2, 0}, {2, 1}, {0, 1}}).size() == 1);
    CHECK(pieces_of({{0, 0}, {1, 1e-13}, {2, 0}, {2, 1}, {0, 1}}).size() == 1);
    for (const int corners : {8, 9, 14, 15, 30}) {
        Ring round;
        for (int i = 0; i < corners; ++i)
            round.push_back({std::cos(2 * std::numbers::pi * i / corners),
                             std::sin(2 * std::numbers::pi * i / corners)});
        Dice dice{92000};
        CAPTURE(corners);
        check_pieces(dice, round, 1.2);
        // A fan from one corner: each piece of eight takes six of the triangles.
        CHECK(pieces_of(round).size() == static_cast<std::size_t>((corners - 2 + 5) / 6));
    }
}

TEST_CASE("an outline with corners in line between its notches is cut into all of it", "[room]") {
    // A comb: its teeth's feet lie in one line, and so do their tips.
    Ring comb{{0, 0}, {0, -1}, {7, -1}, {7, 0}};
    for (int i = 3; i >= 1; --i) {
        const double x = 2 * i;
        comb.insert(comb.end(), {{x, 0}, {x, 1}, {x - 0.5, 1}, {x - 1, 1}, {x - 1, 0}});
    }
    Dice dice{93000};
    check_pieces(dice, comb, 7);
    check_pieces(dice, {comb.rbegin(), comb.rend()}, 7);
}
