#pragma once
// What every question's request has in common, read and checked.

#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "problem.hpp"

namespace keyhour::pocket {

using Json = nlohmann::ordered_json;

struct Request {
    std::string ask;
    std::string location;  ///< the file's text
    std::string name = "location.toml";
    std::map<std::string, std::string> files;  ///< that it names, by their names
    std::vector<std::string> changes;
    std::size_t columns = 44;
    bool lines = true, document = true, drawings = false;  ///< wanted
    std::optional<double> now_s;  ///< what the asker's clock says, seconds since 1970
    bool beside = false;          ///< the answer beside what was
    Json options;                 ///< what is left: the question's own
};

[[nodiscard]] Reply<Request> read_request(std::string_view json);

/// An array of texts, or a single one.
[[nodiscard]] Reply<std::vector<std::string>> texts_of(const std::string& field, const Json& value);

/// What the request calls a text: "--mark" without its dashes.
[[nodiscard]] std::string field_of_option(std::string_view option);

}  // namespace keyhour::pocket
