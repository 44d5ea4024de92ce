#include "manual.hpp"

#include <utility>

#include "words/blanks.hpp"

namespace keyhour::tell {
namespace {

/// The next line, without its end; takes it off.
std::string_view take_line(std::string_view& rest) {
    const std::size_t end = rest.find('\n');
    const std::string_view line = rest.substr(0, end);
    rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
    return line;
}

std::vector<std::string> parts(std::string_view text, std::string_view between) {
    std::vector<std::string> out;
    for (;;) {
        const std::size_t end = text.find(between);
        out.emplace_back(words::stripped(text.substr(0, end)));
        if (end == std::string_view::npos) return out;
        text.remove_prefix(end + between.size());
    }
}

/// "| a | b |"
std::vector<std::string> cells(std::string_view line) {
    line = words::stripped(line);
    line.remove_prefix(1);
    if (line.ends_with('|')) line.remove_suffix(1);
    return parts(line, "|");
}

class TopicReader {
public:
    explicit TopicReader(std::string_view source) : rest_{source} {}

    Topic read() && {
        read_title();
        while (!rest_.empty()) {
            const std::string_view line = take_line(rest_);
            if (line.starts_with("```"))
                read_code(line.substr(3));
            else if (line.empty())
                close();
            else if (line.starts_with("## "))
                add({Block::Kind::heading, std::string{line.substr(3)}, {}, {}});
            else if (line.starts_with("|"))
                read_row(line);
            else
                read_words(line);
        }
        return std::move(topic_);
    }

private:
    // "# NAME, OTHER: summary"
    void read_title() {
        std::string_view title = take_line(rest_);
        title.remove_prefix(title.starts_with("# ") ? 2 : 0);
        const std::size_t colon = title.find(": ");
        topic_.other_names = parts(title.substr(0, colon), ",");
        topic_.name = topic_.other_names.front();
        topic_.other_names.erase(topic_.other_names.begin());
        if (colon != std::string_view::npos) topic_.summary = title.substr(colon + 2);
    }

    void read_code(std::string_view language) {
        Block code{Block::Kind::code, {}, std::string{language}, {}};
        while (!rest_.empty()) {
            const std::string_view line = take_line(rest_);
            if (line == "```") break;
            code.text.append(line).push_back('\n');
        }
        add(std::move(code));
    }

    void read_row(std::string_view line) {
        if (!open_ || topic_.blocks.back().kind != Block::Kind::table)
            add({Block::Kind::table, {}, {}, {}});
        if (!line.starts_with("| ---")) topic_.blocks.back().rows.push_back(cells(line));
        open_ = true;
    }

    // A line of a paragraph or a list.
    void read_words(std::string_view line) {
        if (line.starts_with("- ")) {
            add({Block::Kind::item, std::string{words::stripped(line.substr(2))}, {}, {}});
        } else if (open_) {
            topic_.blocks.back().text.append(" ").append(words::stripped(line));
            return;
        } else {
            add({Block::Kind::paragraph, std::string{words::stripped(line)}, {}, {}});
        }
        open_ = true;
    }

    void add(Block block) {
        topic_.blocks.push_back(std::move(block));
        open_ = false;
    }
    void close() { open_ = false; }

    std::string_view rest_;
    Topic topic_;
    bool open_ = false;  // does the next line go on with the last block?
};

struct Mark {
    std::string_view text;
    Style style;
};
constexpr Mark letters_of_style[] = {{"`", Style::code}, {"**", Style::bold}, {"*", Style::italic}};

}  // namespace

std::vector<StyledText> styled(std::string_view line) {
    std::vector<StyledText> out;
    std::string plain;
    const auto close_plain = [&] {
        if (!plain.empty()) out.push_back({Style::plain, std::exchange(plain, {})});
    };
    while (!line.empty()) {
        bool found = false;
        for (const Mark& mark : letters_of_style) {
            if (!line.starts_with(mark.text)) continue;
            const std::size_t end = line.find(mark.text, mark.text.size());
            if (end == std::string_view::npos) continue;
            close_plain();
            out.push_back(
                {mark.style, std::string{line.substr(mark.text.size(), end - mark.text.size())}});
            line.remove_prefix(end + mark.text.size());
            found = true;
            break;
        }
        if (found) continue;
        plain += line.front();
        line.remove_prefix(1);
    }
    close_plain();
    return out;
}

std::string unmarked(std::string_view line) {
    std::string out;
    for (const StyledText& part : styled(line))
        out += part.text;
    return out;
}

Topic read_topic(std::string_view source) {
    return TopicReader{source}.read();
}

std::vector<Topic> manual_topics() {
    std::vector<Topic> out;
    for (const std::string_view source : manual_sources())
        out.push_back(read_topic(source));
    return out;
}

}  // namespace keyhour::tell
