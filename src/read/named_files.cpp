#include "named_files.hpp"

#include <filesystem>
#include <system_error>

#include "file/file_contents.hpp"
#include "location_file.hpp"
#include "toml.hpp"

namespace keyhour::read {
namespace {

namespace fs = std::filesystem;

void add_named(const std::string& path, std::vector<std::string>& found) {
    std::error_code error;
    if (fs::is_regular_file(path, error)) found.push_back(path);
    if (!fs::is_directory(path, error)) return;
    for (fs::directory_iterator at{path, error}; !error && at != fs::directory_iterator{};
         at.increment(error))
        if (at->path().extension() != ".toml") found.push_back(at->path().string());
}

void add_texts(const toml::node& node, const std::string& folder, std::vector<std::string>& found) {
    if (const auto* text = node.as_string(); text != nullptr && !text->get().empty())
        add_named(file::path_beside(folder, text->get()), found);
    if (const auto* table = node.as_table())
        for (const auto& [key, value] : *table)
            add_texts(value, folder, found);
    if (const auto* list = node.as_array())
        for (const toml::node& value : *list)
            add_texts(value, folder, found);
}

}  // namespace

tl::expected<std::string, Problem> plain_location_text(const std::string& path) {
    return file::file_contents(path, largest_location_bytes, "a location file",
                               "accepted: a location file, as written by \"keyhour new\"",
                               file::Taken::plain_file);
}

std::vector<std::string> files_read(const std::string& path) {
    std::vector<std::string> found{path};
    std::error_code error;
    if (!fs::is_regular_file(path, error)) return found;  // a pipe can be read once only
    const auto text = plain_location_text(path);
    if (!text) return found;
    const toml::parse_result parsed = toml::parse(*text, path);
    if (parsed) add_texts(parsed.table(), fs::path{path}.parent_path().string(), found);
    return found;
}

}  // namespace keyhour::read
