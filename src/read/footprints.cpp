#include "footprints.hpp"

#include <fmt/format.h>

#include <GeographicLib/Geodesic.hpp>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <optional>

#include "file/file_contents.hpp"
#include "keyhour/site/quoted.hpp"
#include "length.hpp"
#include "outlines.hpp"

namespace keyhour::read {
namespace {

using nlohmann::json;

constexpr std::size_t most_bytes = std::size_t{64} << 20U;
constexpr std::size_t most_problems = 20;
constexpr int deepest = 8;            // GeometryCollections in each other
constexpr double touching_m2 = 1e-4;  // outlines that share less area only touch
constexpr double highest_m = 1000;
const char* const geo_json = "accepted: GeoJSON (RFC 7946)";
const char* const position_form =
    "accepted: [longitude, latitude] in degrees, longitude first (RFC 7946, section 3.1.1)";

/// One Polygon as read.
struct Outline {
    std::vector<std::vector<site::Coordinates>> rings;  // the outer one, then its holes
};

/// "shed", "shed" -> "shed", "shed (2)".
class Names {
public:
    explicit Names(std::vector<std::string> taken) : taken_{std::move(taken)} {}
    std::string give(const std::string& wanted) {
        std::string name = wanted;
        for (int i = 2; std::ranges::find(taken_, name) != taken_.end(); ++i)
            name = fmt::format("{} ({})", wanted, i);
        taken_.push_back(name);
        return name;
    }

private:
    std::vector<std::string> taken_;
};

/// "a", "b" and 3 more.
std::string some_of(const std::vector<std::string>& names) {
    constexpr std::size_t shown = 3;
    std::string out;
    for (std::size_t i = 0; i < std::min(shown, names.size()); ++i)
        out += fmt::format("{}{}", i == 0 ? "" : ", ", site::quoted(names[i], 40));
    if (names.size() > shown) out += fmt::format(" and {} more", names.size() - shown);
    return out;
}

class FootprintReader {
public:
    FootprintReader(std::string name, const site::PlanFrame& frame, const site::Coordinates& site,
                    const FootprintWish& wish)
        : name_{std::move(name)},
          frame_{frame},
          site_{site},
          wish_{wish},
          names_{wish.taken_names} {}

    tl::expected<Footprints, std::vector<Problem>> read(const json& document) {
        if (!document.is_object()) {
            complain("", "the document is no JSON object", geo_json);
        } else {
            check_reference_system(document);
            read_thing(document);
        }
        if (problems_.empty()) check_where();
        if (!problems_.empty()) return tl::unexpected{std::move(problems_)};
        ask();
        return std::move(found_);
    }

private:
    struct Feature {
        std::string name;
        std::optional<double> height_m;
        bool sound = true;  // its height could be read, or is absent
    };

    void complain(const std::string& path, const std::string& found, std::string accepted) {
        if (problems_.size() >= most_problems) return;
        problems_.push_back(
            {name_, 0, 0, path.empty() ? found : path + ": " + found, std::move(accepted), {}});
    }

    /// RFC 7946, section 4: WGS 84 alone. Older files may name another system in "crs".
    void check_reference_system(const json& document) {
        const auto crs = document.find("crs");
        if (crs == document.end() || crs->is_null()) return;
        const std::string text = crs->dump(-1, ' ', false, json::error_handler_t::replace);
        if (text.find("CRS84") != std::string::npos || text.find("4326") != std::string::npos)
            return;
        complain("crs", "positions in another reference system, " + site::quoted(text, 60),
                 "accepted: WGS 84 (RFC 7946, section 4)");
    }

    static std::string type_of(const json& thing) {
        const auto type = thing.is_object() ? thing.find("type") : thing.end();
        return type != thing.end() && type->is_string() ? type->get<std::string>() : "";
    }

    void read_thing(const json& document) {
        const std::string type = type_of(document);
        if (type == "FeatureCollection") {
            const auto features = document.find("features");
            if (features == document.end() || !features->is_array()) {
                complain("features", "the list of features is missing", geo_json);
                return;
            }
            for (std::size_t i = 0; i < features->size(); ++i)
                read_feature((*features)[i], fmt::format("features[{}]", i));
        } else if (type == "Feature") {
            read_feature(document, "");
        } else {
            ++features_;
            read_geometry(document, "", {fmt::format("footprint {}", features_), {}, true}, 0);
        }
    }

    static std::string inside(const std::string& path, const char* key) {
        return path.empty() ? key : path + "." + key;
    }

    void read_feature(const json& feature, const std::string& path) {
        if (type_of(feature) != "Feature") {
            complain(inside(path, "type"), "this is no Feature", geo_json);
            return;
        }
        ++features_;
        const auto geometry = feature.find("geometry");
        if (geometry == feature.end()) {
            complain(inside(path, "geometry"), "the geometry is missing",
                     "accepted: a geometry, or null (RFC 7946, section 3.2)");
            return;
        }
        if (geometry->is_null()) return;  // an unlocated feature
        const auto properties = feature.find("properties");
        const json none = json::object();
        const json& told =
            properties != feature.end() && properties->is_object() ? *properties : none;
        Feature about{name_of(feature, told), {}, true};
        read_height(told, inside(path, "properties") + "." + wish_.height_property, about);
        read_geometry(*geometry, inside(path, "geometry"), about, 0);
    }

    std::string name_of(const json& feature, const json& properties) const {
        for (const auto& [from, key] :
             {std::pair{&properties, "name"}, {&properties, "id"}, {&feature, "id"}}) {
            const auto value = from->find(key);
            if (value == from->end()) continue;
            std::string text;
            if (value->is_string())
                text = value->get<std::string>();
            else if (value->is_number())
                text = fmt::format("footprint {}", value->dump());
            for (char& c : text)
                if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = ' ';
            if (text.find_first_not_of(' ') != std::string::npos) return text;
        }
        return fmt::format("footprint {}", features_);
    }

    void read_height(const json& properties, const std::string& path, Feature& about) {
        const auto value = properties.find(wish_.height_property);
        if (value == properties.end() || value->is_null()) return;
        const std::string accepted =
            fmt::format("accepted: metres above the ground, more than 0, up to {:g}", highest_m);
        const std::string shown = value->dump(-1, ' ', false, json::error_handler_t::replace);
        about.sound = false;
        if (value->is_number()) {
            about.height_m = value->get<double>();
        } else if (value->is_string()) {
            about.height_m = height_in(value->get<std::string>());
        }
        if (!about.height_m) {
            complain(path, site::quoted(shown, 40) + " is not a height", accepted);
        } else if (!(*about.height_m > 0 && *about.height_m <= highest_m)) {
            complain(path, site::quoted(shown, 40) + " is out of range", accepted);
        } else {
            about.sound = true;
        }
    }

    /// "9.5" is metres, "30 ft" says its unit.
    static std::optional<double> height_in(const std::string& text) {
        if (!text.empty() && text.find_first_not_of("0123456789.-+") == std::string::npos) {
            char* end = nullptr;
            const double value = std::strtod(text.c_str(), &end);
            if (end == text.c_str() + text.size()) return value;
        }
        if (const auto length = read_length(text)) return *length;
        return std::nullopt;
    }

    void read_geometry(const json& geometry, const std::string& path, const Feature& about,
                       int depth) {
        const std::string type = type_of(geometry);
        if (type == "GeometryCollection") {
            const auto parts = geometry.find("geometries");
            if (depth >= deepest) {
                complain(path, "collections stand too deep in each other", geo_json);
            } else if (parts == geometry.end() || !parts->is_array()) {
                complain(inside(path, "geometries"), "the list of geometries is missing", geo_json);
            } else {
                for (std::size_t i = 0; i < parts->size(); ++i)
                    read_geometry((*parts)[i], inside(path, "geometries") + fmt::format("[{}]", i),
                                  about, depth + 1);
            }
            return;
        }
        const std::vector<std::string> others{"Point", "MultiPoint", "LineString",
                                              "MultiLineString"};
        if (std::ranges::find(others, type) != others.end()) return;  // no building
        if (type != "Polygon" && type != "MultiPolygon") {
            complain(inside(path, "type"),
                     type.empty() ? "the type is missing"
                                  : site::quoted(type, 40) + " is no type of geometry",
                     geo_json);
            return;
        }
        const auto coordinates = geometry.find("coordinates");
        const std::string at = inside(path, "coordinates");
        if (coordinates == geometry.end() || !coordinates->is_array()) {
            complain(at, "the coordinates are missing", geo_json);
        } else if (type == "Polygon") {
            read_polygon(*coordinates, at, about);
        } else {
            for (std::size_t i = 0; i < coordinates->size(); ++i)
                read_polygon((*coordinates)[i], at + fmt::format("[{}]", i), about);
        }
    }

    void read_polygon(const json& rings, const std::string& path, const Feature& about) {
        if (!rings.is_array()) {
            complain(path, "this is no list of rings", geo_json);
            return;
        }
        if (rings.empty()) return;  // RFC 7946, section 3.1: an empty geometry may be ignored
        Outline outline;
        for (std::size_t i = 0; i < rings.size(); ++i) {
            auto ring = read_ring(rings[i], path + fmt::format("[{}]", i));
            if (!ring) return;
            outline.rings.push_back(*std::move(ring));
        }
        place(outline, path, about);
    }

    std::optional<std::vector<site::Coordinates>> read_ring(const json& ring,
                                                            const std::string& path) {
        if (!ring.is_array() || ring.size() < 4) {
            complain(path, "a ring of fewer than four positions",
                     "accepted: four or more, the last the same as the first (RFC 7946, section "
                     "3.1.6)");
            return std::nullopt;
        }
        std::vector<site::Coordinates> out;
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const auto position = read_position(ring[i], path + fmt::format("[{}]", i));
            if (!position) return std::nullopt;
            out.push_back(*position);
        }
        if (out.front().latitude != out.back().latitude ||
            out.front().longitude != out.back().longitude) {
            complain(path, "the ring is not closed",
                     "its last position must be the same as its first (RFC 7946, section 3.1.6)");
            return std::nullopt;
        }
        out.pop_back();
        return out;
    }

    std::optional<site::Coordinates> read_position(const json& position, const std::string& path) {
        if (!position.is_array() || position.size() < 2 || !position[0].is_number() ||
            !position[1].is_number()) {
            complain(path, "this is no position", position_form);
            return std::nullopt;
        }
        const double longitude = position[0].get<double>(), latitude = position[1].get<double>();
        if (!(std::abs(latitude) <= 90)) {
            const bool swapped = std::abs(longitude) <= 90 && std::abs(latitude) <= 180;
            complain(path,
                     fmt::format("latitude {:g} is not in -90..90{}", latitude,
                                 swapped ? ": longitude and latitude swapped?" : ""),
                     position_form);
            return std::nullopt;
        }
        if (!(std::abs(longitude) <= 180)) {
            complain(path, fmt::format("longitude {:g} is not in -180..180", longitude),
                     position_form);
            return std::nullopt;
        }
        return site::Coordinates{Angle::degrees(latitude), Angle::degrees(longitude)};
    }

    double distance_m(double latitude_deg, double longitude_deg) const {
        double metres = 0;
        GeographicLib::Geodesic::WGS84().Inverse(site_.latitude.in_degrees(),
                                                 site_.longitude.in_degrees(), latitude_deg,
                                                 longitude_deg, metres);
        return metres;
    }

    /// Is any of it near enough? Remembers how far the file as a whole is off.
    bool is_near(const Outline& outline) {
        double nearest = 1e9;
        for (const site::Coordinates& c : outline.rings[0]) {
            const double latitude = c.latitude.in_degrees(), longitude = c.longitude.in_degrees();
            nearest = std::min(nearest, distance_m(latitude, longitude));
            if (std::abs(longitude) <= 90 && !swapped_is_near_)
                swapped_is_near_ = distance_m(longitude, latitude) <= wish_.within_m;
        }
        // Corners may be far where an edge, or the middle of it all, is near.
        constexpr double plane_serves_m = 200'000;
        if (nearest > wish_.within_m && nearest < plane_serves_m)
            nearest = std::min(nearest, distance_to(on_plan(outline.rings[0])));
        nearest_m_ = std::min(nearest_m_, nearest);
        return nearest <= wish_.within_m;
    }

    /// From the plan's origin to the outline; 0 within it.
    static double distance_to(const room::Ring& ring) {
        if (ring.size() >= 3 && room::contains(ring, {0, 0})) return 0;
        double nearest = 1e9;
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const room::Point2 a = ring[i], along = ring[(i + 1) % ring.size()] - a;
            const double whole = dot(along, along);
            const double k = whole > 0 ? std::clamp(-dot(a, along) / whole, 0.0, 1.0) : 0;
            nearest = std::min(nearest, room::length(a + k * along));
        }
        return nearest;
    }

    room::Ring on_plan(const std::vector<site::Coordinates>& ring) const {
        room::Ring out;
        for (const site::Coordinates& c : ring) {
            const room::Point2 p = frame_.on_plan(c);
            // A position written twice in a row is a slip of the export, not of the outline.
            if (out.empty() || room::length(p - out.back()) > 1e-3) out.push_back(p);
        }
        while (out.size() > 1 && room::length(out.front() - out.back()) <= 1e-3)
            out.pop_back();
        return out;
    }

    void place(const Outline& outline, const std::string& path, const Feature& about) {
        ++outlines_;
        if (!is_near(outline)) {
            ++beyond_;
            return;
        }
        std::vector<room::Ring> rings;
        for (std::size_t i = 0; i < outline.rings.size(); ++i) {
            rings.push_back(on_plan(outline.rings[i]));
            if (rings.back().size() < 3 || room::crosses_itself(rings.back())) {
                complain(path + fmt::format("[{}]", i), "the ring crosses or touches itself",
                         "each corner once, in order around the building");
                return;
            }
        }
        if (!about.sound) return;
        const bool own =
            !wish_.room_floor.empty() && shared_area_m2(rings[0], wish_.room_floor) > touching_m2;
        if (own && !in_a_court(rings)) {
            own_house_.push_back(about.name);
        } else if (!about.height_m) {
            without_height_.push_back(about.name);
        } else {
            const std::vector<room::Ring> holes{rings.begin() + 1, rings.end()};
            for (room::Ring& piece : without_holes(rings[0], holes))
                found_.buildings.push_back(
                    {names_.give(about.name), std::move(piece), *about.height_m, {}});
        }
    }

    /// The room stands in a hole of the outline and touches no part of it.
    bool in_a_court(const std::vector<room::Ring>& rings) const {
        return std::any_of(rings.begin() + 1, rings.end(), [&](const room::Ring& hole) {
            return area_outside_m2(wish_.room_floor, hole) <= touching_m2;
        });
    }

    /// All of it far away: then nothing around the site would be read, and nobody would notice.
    void check_where() {
        if (outlines_ == 0 || beyond_ < outlines_ || !swapped_is_near_) return;
        complain("",
                 fmt::format("every footprint is beyond {:g} m, the nearest {:.0f} km off: are "
                             "longitude and latitude swapped?",
                             wish_.within_m, nearest_m_ / 1000),
                 position_form);
    }

    void ask() {
        auto& questions = found_.questions;
        if (outlines_ == 0)
            questions.push_back(name_ + " holds no footprint: is it the right file?");
        else if (beyond_ == outlines_)
            questions.push_back(fmt::format(
                "{}: no footprint lies within {:g} m of the site, the nearest is {:.1f} "
                "km off: is it the right file?",
                name_, wish_.within_m, nearest_m_ / 1000));
        if (!without_height_.empty())
            questions.push_back(
                fmt::format("{}: no \"{}\" for {}: how high? Left out until it is known.", name_,
                            wish_.height_property, some_of(without_height_)));
        if (!own_house_.empty())
            questions.push_back(fmt::format(
                "{}: the room stands in {}: left out, as the room's own house. What of it rises "
                "above the room or stands before a window must be measured as a building.",
                name_, some_of(own_house_)));
    }

    std::string name_;
    const site::PlanFrame& frame_;
    const site::Coordinates& site_;
    const FootprintWish& wish_;
    Names names_;
    Footprints found_;
    std::vector<Problem> problems_;
    std::vector<std::string> without_height_, own_house_;
    std::size_t features_ = 0, outlines_ = 0, beyond_ = 0;
    double nearest_m_ = 1e9;
    bool swapped_is_near_ = false;
};

Problem problem_at(const std::string& text, const std::string& name, std::size_t byte,
                   std::string found) {
    const auto line =
        1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(byte), '\n');
    const std::size_t start = text.rfind('\n', byte == 0 ? 0 : byte - 1);
    const std::size_t column = start == std::string::npos ? byte + 1 : byte - start;
    return {name, static_cast<int>(line), static_cast<int>(column), std::move(found), geo_json, {}};
}

Problem syntax_problem(const std::string& text, const std::string& name,
                       const json::parse_error& error) {
    const std::size_t byte = std::min(error.byte > 0 ? error.byte - 1 : 0, text.size());
    return problem_at(text, name, byte, "not JSON");
}

/// A number beyond what a double holds: "number overflow parsing '1e999'".
Problem range_problem(const std::string& text, const std::string& name,
                      const json::out_of_range& error) {
    const std::string message = error.what();
    const std::size_t begin = message.find('\'') + 1, end = message.find('\'', begin);
    const std::string number = message.substr(begin, end - begin);
    const std::size_t byte = std::min(text.find(number), text.size());
    return problem_at(text, name, byte,
                      site::quoted(number, 40) + " is too large a number to be read");
}

}  // namespace

tl::expected<Footprints, std::vector<Problem>> read_footprints_text(const std::string& text,
                                                                    const std::string& name,
                                                                    const site::PlanFrame& frame,
                                                                    const site::Coordinates& site,
                                                                    const FootprintWish& wish) {
    try {
        return FootprintReader{name, frame, site, wish}.read(json::parse(text));
    } catch (const json::parse_error& error) {
        return tl::unexpected{std::vector{syntax_problem(text, name, error)}};
    } catch (const json::out_of_range& error) {
        return tl::unexpected{std::vector{range_problem(text, name, error)}};
    }
}

tl::expected<Footprints, std::vector<Problem>> read_footprints(const std::string& path,
                                                               const site::PlanFrame& frame,
                                                               const site::Coordinates& site,
                                                               const FootprintWish& wish) {
    const auto text =
        file::file_contents(path, most_bytes, "a GeoJSON file", geo_json, file::Taken::plain_file);
    if (!text) return tl::unexpected{std::vector{text.error()}};
    return read_footprints_text(*text, path, frame, site, wish);
}

}  // namespace keyhour::read
