#pragma once
/// @file
/// Manual pages for man(1), of the same words as the help: roff with the macros of man(7).

#include <string>
#include <vector>

#include "manual.hpp"

namespace keyhour::tell {

/// What --help says of a command.
struct CommandText {
    struct Entry {
        std::string group;  ///< heading in the help; empty for the usual options
        std::string name;   ///< "--near", "-o", "location"
        std::string value;  ///< "M", "FILE"; empty for a flag
        std::string text;
    };
    std::string name, summary, usage;
    std::vector<Entry> entries;
    std::string footer;  ///< lines, as they stand
};

/// How every page begins.
inline constexpr const char* man_page_begins = ".TH \"keyhour";

/// keyhour-NAME(7)
[[nodiscard]] std::string man_page(const Topic& topic, const std::string& version);
/// keyhour-NAME(1)
[[nodiscard]] std::string man_page(const CommandText& command, const std::string& version);
/// keyhour(1): what there is to ask, and the topics.
[[nodiscard]] std::string man_page(const std::string& what,
                                   const std::vector<CommandText>& commands,
                                   const std::vector<Topic>& topics, const std::string& version);

}  // namespace keyhour::tell
