#pragma once
// What people see of an answer.

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

/// The lines that do not fit 80 columns, counted in code points of UTF-8.
inline std::vector<std::string> too_long(const std::string& text) {
    std::vector<std::string> found;
    std::istringstream lines{text};
    for (std::string line; std::getline(lines, line);)
        if (std::count_if(line.begin(), line.end(), [](char c) {
                return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
            }) > 80)
            found.push_back(line);
    return found;
}

/// A member by value: safe to loop over even where the document is a temporary.
inline nlohmann::json member(const nlohmann::json& document, const char* name) {
    return document[name];
}

inline bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// The text on one line, however it was broken.
inline std::string flat(const std::string& text) {
    std::string out;
    for (const char c : text) {
        const bool blank = c == ' ' || c == '\n';
        if (!blank || out.empty() || out.back() != ' ') out += blank ? ' ' : c;
    }
    return out;
}

/// Does it say so, however it is broken into lines?
inline bool tells(const std::string& text, const std::string& part) {
    return flat(text).find(part) != std::string::npos;
}
