#include "pocket_page.hpp"

#include <fmt/format.h>

#include <cstdint>
#include <nlohmann/json.hpp>
#include <string_view>

#include "keyhour/version.hpp"
#include "pocket_parts.hpp"

namespace keyhour::tell {
namespace {

std::string in_base64(std::string_view bytes) {
    constexpr std::string_view alphabet =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const std::size_t left = bytes.size() - i;
        std::uint32_t group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group = group << 8U | (k < left ? static_cast<unsigned char>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k)
            out += k <= left ? alphabet[group >> (18U - 6U * k) & 63U] : '=';
    }
    return out;
}

/// Data of the page's own script: no "<" stands in it that a browser could take for a tag.
std::string data_element(const char* id, const std::string& json) {
    std::string text;
    for (const char c : json)
        if (c == '<')
            text += "\\u003c";
        else
            text += c;
    return fmt::format("<script type=\"application/json\" id=\"{}\">{}</script>\n", id, text);
}

std::string in_json(const std::vector<PocketFile>& files) {
    auto list = nlohmann::json::array();
    for (const PocketFile& file : files) {
        nlohmann::json told{{"name", file.name}, {"text", file.text}};
        if (!file.beside.empty()) told["beside"] = file.beside;
        if (!file.terrain_skyline.empty())
            told["terrain"] = {{"skyline", file.terrain_skyline},
                               {"elevation_m", file.terrain_elevation}};
        list.push_back(std::move(told));
    }
    return list.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

}  // namespace

std::string pocket_page(const PocketParts& parts) {
    std::string out = fmt::format(
        "<!DOCTYPE html>\n<!-- keyhour pocket page -->\n<html lang=\"en-GB\">\n<head>\n"
        "<meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
        "script-src '{}' 'wasm-unsafe-eval'; worker-src blob:; style-src '{}'; base-uri 'none'; "
        "form-action 'none'\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<title>keyhour</title>\n<style>",
        pocket_script_hash(), pocket_style_hash());
    out += pocket_style();
    out += "</style>\n</head>\n<body>\n";
    out += pocket_body();
    out += fmt::format(
        "<footer><p>keyhour {}. Cautions stand with the answers; local codes and "
        "licensed practice decide.</p></footer>\n",
        version());
    out += data_element("locations", in_json(parts.locations));
    if (!parts.zones.empty()) out += data_element("zones", parts.zones);
    out += "<script type=\"application/octet-stream\" id=\"library\">" + in_base64(parts.library) +
           "</script>\n<script>";
    out += pocket_script();
    out += "</script>\n</body>\n</html>\n";
    return out;
}

}  // namespace keyhour::tell
