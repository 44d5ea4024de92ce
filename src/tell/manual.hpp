#pragma once
/// @file
/// The manual that the program carries: a text a topic, read where there is no signal.
///
/// The sources are src/tell/manual/*.md, put into the program by embed.cmake. They are written in a
/// small part of Markdown: a title "# NAME, OTHER NAMES: summary", headings "## ...", paragraphs,
/// lists "- ...", tables of two columns, fenced code; in a line `code`, **bold**, *italic*.

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace keyhour::tell {

enum class Style { plain, code, bold, italic };

/// Some words of a line, in one style.
struct StyledText {
    Style style = Style::plain;
    std::string text;
};

/// @param line  of the sources; a mark without its partner stands for itself
[[nodiscard]] std::vector<StyledText> styled(std::string_view line);
/// The same without its marks: `--draw` is --draw.
[[nodiscard]] std::string unmarked(std::string_view line);

struct Block {
    enum class Kind { heading, paragraph, item, table, code };
    Kind kind = Kind::paragraph;
    std::string text;                            ///< with its marks; of code the lines, each ended
    std::string language;                        ///< of code: "text", "toml", "sh", "bash"
    std::vector<std::vector<std::string>> rows;  ///< of a table, the first its head
};

struct Topic {
    std::string name;                      ///< one word, as asked for
    std::vector<std::string> other_names;  ///< by which it is found as well
    std::string summary;
    std::vector<Block> blocks;
};

/// One text for each topic, as it lies in its file, ascending by name.
[[nodiscard]] std::span<const std::string_view> manual_sources();

[[nodiscard]] Topic read_topic(std::string_view source);

/// All of them, ascending by name.
[[nodiscard]] std::vector<Topic> manual_topics();

}  // namespace keyhour::tell
