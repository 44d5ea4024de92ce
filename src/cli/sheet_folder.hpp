#pragma once
// Where the light sheet's files go: beside and renamed, never over somebody else's file.

#include <optional>
#include <string>
#include <vector>

#include "failure.hpp"

namespace keyhour::cli {

struct SheetFile {
    std::string name;  // without a folder
    std::string content;
};

/// May all these files be written into the folder, which may not be there yet? (own_output.hpp)
[[nodiscard]] std::optional<Failure> may_fill(const std::string& folder,
                                              const std::vector<std::string>& names, bool force,
                                              const std::vector<std::string>& inputs);

[[nodiscard]] std::optional<Failure> write_file(const std::string& path, const std::string& content,
                                                bool force);

/// Makes the folder if need be. Nothing is replaced if one of the files may not be written, or if
/// the disk is too full for all of them.
[[nodiscard]] std::optional<Failure> write_folder(const std::string& folder,
                                                  const std::vector<SheetFile>& files, bool force);

}  // namespace keyhour::cli
