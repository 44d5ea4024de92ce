#pragma once
/// @file
/// A lamp's intensities from a photometric file in the format of ANSI/IES LM-63.

#include <string>
#include <string_view>

#include "keyhour/site/lamp.hpp"
#include "location_file.hpp"

namespace keyhour::read {

/// What the file tells of a lamp.
struct PhotometricFile {
    /// Type C, ready for light::CandelaGrid: the multiplier holds the ballast factors too; a file
    /// of horizontal angles 90 to 270 is mirrored to the whole turn.
    site::MeasuredIntensity intensity;
    /// Of a round face of the luminous opening's area; of a line its length; 0 for a point.
    double face_diameter_m = 0;
    double watts = 0;     ///< 0: not told
    std::string edition;  ///< of the first line, "LM-63-2002"; empty: older than 1991
};

/// Larger files are refused: the largest grids of the trade take some hundred kilobytes.
inline constexpr std::size_t largest_photometric_bytes = std::size_t{4} << 20U;

/// Reads the editions from 1986 to 2019, as far as they hold one lamp's intensities: TILT=NONE and
/// goniometer type C. Others are refused by name.
/// Source: ANSI/IES LM-63 (1995, 2002, 2019), from its description.
/// @param path  as problems name it
/// @return      or the first problem, with line and column
[[nodiscard]] Read<PhotometricFile> read_photometric_file(const std::string& path);
[[nodiscard]] Read<PhotometricFile> read_photometric_text(std::string_view text,
                                                          const std::string& name);

}  // namespace keyhour::read
