#pragma once
// A folder such as examples are run in: the example locations, and one of them as room.toml.

#include <cstdlib>
#include <filesystem>
#include <string>

#include "scratch_folder.hpp"

/// The working directory while it lives.
class WorkFolder {
public:
    explicit WorkFolder(const std::string& name)
        : folder_{name}, before_{std::filesystem::current_path()} {
        const std::filesystem::path locations{KEYHOUR_LOCATIONS};
        std::filesystem::copy(locations, folder_.path / "locations",
                              std::filesystem::copy_options::recursive);
        std::filesystem::copy_file(locations / "tallow-lane.toml", folder_.path / "room.toml");
        std::filesystem::copy_file(locations / "mill-green" / "footprints.geojson",
                                   folder_.path / "town.geojson");
        std::filesystem::current_path(folder_.path);
    }
    ~WorkFolder() { std::filesystem::current_path(before_); }
    WorkFolder(const WorkFolder&) = delete;
    WorkFolder& operator=(const WorkFolder&) = delete;

    [[nodiscard]] const std::filesystem::path& path() const { return folder_.path; }

    /// Runs lines of sh with the program on PATH. @return what system() gives: 0 if all is well
    [[nodiscard]] int shell(const std::string& lines) const {
        const std::string program = std::filesystem::path{KEYHOUR_PROGRAM}.parent_path().string();
        return std::system(("set -e; exec >'" + (folder_.path / "printed").string() + "'; PATH='" +
                            program + "':$PATH\n" + lines)
                               .c_str());
    }

private:
    ScratchFolder folder_;
    std::filesystem::path before_;
};
