#include "tell/message.hpp"

#include <algorithm>

namespace keyhour::tell {
namespace {

bool begins_character(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), begins_character));
}

std::string first_characters(const std::string& text, std::size_t count) {
    std::size_t end = 0;
    for (; end < text.size(); ++end)
        if (begins_character(text[end]) && count-- == 0) break;
    return text.substr(0, end);
}

}  // namespace

std::string message(const std::vector<std::string>& parts) {
    std::string line;
    for (const std::string& part : parts) {
        if (line.empty())
            line = first_characters(part, message_characters);
        else if (characters(line) + characters(part) <= message_characters)
            line += part;
    }
    return line;
}

std::string message_of_list(const std::string& head, const std::vector<std::string>& items) {
    constexpr std::size_t for_the_rest = 13;  // " and 123 more"
    std::string line = first_characters(head, message_characters - for_the_rest);
    std::size_t left = items.size();
    for (const std::string& item : items) {
        const std::string part = (left == items.size() ? ": " : ", ") + item;
        const std::size_t room = message_characters - (left > 1 ? for_the_rest : 0);
        if (characters(line) + characters(part) > room) break;
        line += part;
        --left;
    }
    return left == 0 ? line : line + " and " + std::to_string(left) + " more";
}

}  // namespace keyhour::tell
