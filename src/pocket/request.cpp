#include "request.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/terminal.hpp"

namespace keyhour::pocket {
namespace {

constexpr std::size_t most_bytes = std::size_t{16} << 20U;

class RequestReader {
public:
    explicit RequestReader(Json members) : members_(std::move(members)) {}  // {} would make a list

    Reply<Request> read() {
        Request r;
        text("ask", r.ask);
        text("location", r.location);
        text("name", r.name);
        texts("changes", r.changes);
        files(r.files);
        columns(r.columns);
        wanted(r);
        flag("beside", r.beside);
        clock(r.now_s);
        if (r.name.empty()) r.name = "location.toml";
        if (!problems_.empty()) return tl::unexpected{std::move(problems_)};
        r.options = std::move(members_);
        return r;
    }

private:
    Json taken(const char* name) {
        const auto at = members_.find(name);
        if (at == members_.end()) return nullptr;
        Json value = std::move(*at);
        members_.erase(at);
        return value;
    }
    void complain(const char* field, const char* accepted) {
        problems_.push_back({0, 0, field, fmt::format("{}: accepted: {}", field, accepted)});
    }
    void text(const char* name, std::string& out) {
        const Json value = taken(name);
        if (value.is_string())
            out = value.get<std::string>();
        else if (!value.is_null())
            complain(name, "a text");
    }
    void flag(const char* name, bool& out) {
        const Json value = taken(name);
        if (value.is_boolean())
            out = value.get<bool>();
        else if (!value.is_null())
            complain(name, "true or false");
    }
    void texts(const char* name, std::vector<std::string>& out) {
        const Json value = taken(name);
        if (value.is_null()) return;
        auto read = texts_of(name, value);
        if (read)
            out = *std::move(read);
        else
            problems_.push_back(read.error().front());
    }
    void files(std::map<std::string, std::string>& out) {
        const Json value = taken("files");
        if (value.is_null()) return;
        const auto is_text = [](const Json& content) { return content.is_string(); };
        if (!value.is_object() || !std::ranges::all_of(value, is_text))
            return complain("files", "an object of texts, each by the file's name");
        for (const auto& [name, content] : value.items())
            out[name] = content.get<std::string>();
    }
    void columns(std::size_t& out) {
        const Json value = taken("columns");
        if (value.is_null()) return;
        if (!value.is_number_integer() || value.get<std::int64_t>() < 1 ||
            value.get<std::int64_t>() > 1000)
            return complain("columns", "a whole number, 40 to 80");
        out = std::clamp(value.get<std::size_t>(), cli::narrowest_line, cli::widest_line);
    }
    void clock(std::optional<double>& out) {
        const Json value = taken("now");
        if (value.is_null()) return;
        constexpr double first = -5'333'000'000, last = 7'227'000'000;  // years 1801 to 2198
        if (!value.is_number() || !(value.get<double>() > first && value.get<double>() < last))
            return complain("now", "seconds since 1970");
        out = value.get<double>();
    }
    void wanted(Request& r) {
        std::vector<std::string> want;
        if (!members_.contains("want")) return;
        texts("want", want);
        r.lines = r.document = r.drawings = false;
        for (const std::string& part : want) {
            bool* known = part == "lines"      ? &r.lines
                          : part == "document" ? &r.document
                          : part == "drawings" ? &r.drawings
                                               : nullptr;
            if (known == nullptr) return complain("want", "lines, document, drawings");
            *known = true;
        }
    }

    Json members_;
    Problems problems_;
};

}  // namespace

Reply<Request> read_request(std::string_view json) {
    if (json.size() > most_bytes) return refused("", "the request is too large: accepted: 16 MiB");
    Json members = Json::parse(json, nullptr, false);
    if (!members.is_object()) return refused("", "the request is no JSON object");
    return RequestReader{std::move(members)}.read();
}

Reply<std::vector<std::string>> texts_of(const std::string& field, const Json& value) {
    if (value.is_string()) return std::vector{value.get<std::string>()};
    const auto is_text = [](const Json& member) { return member.is_string(); };
    if (!value.is_array() || !std::ranges::all_of(value, is_text))
        return refused(field, field + ": accepted: a list of texts");
    std::vector<std::string> out;
    for (const Json& member : value)
        out.push_back(member.get<std::string>());
    return out;
}

std::string field_of_option(std::string_view option) {
    option.remove_prefix(std::min(option.find_first_not_of('-'), option.size()));
    return std::string{option};
}

}  // namespace keyhour::pocket
