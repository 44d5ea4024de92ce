#include "manual_page.hpp"

#include <algorithm>
#include <ostream>

#include "terminal.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

using Kind = tell::Block::Kind;

/// A heading stands out without a pen: in capitals, but for names as the file has them.
std::string in_capitals(std::string text) {
    bool name = false;
    for (char& c : text) {
        if (c == '[') name = true;
        if (c == ']') name = false;
        if (!name && c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    }
    return text;
}

/// As it stands; a phone has no room for an indent.
void print_code(const tell::Block& block, std::ostream& out) {
    constexpr std::size_t roomy = 60;
    const char* indent = line_columns(out) < roomy ? "" : "  ";
    std::string_view rest = block.text;
    while (!rest.empty()) {
        const std::size_t end = rest.find('\n');
        if (end > 0) out << indent;
        out << rest.substr(0, end) << '\n';
        rest.remove_prefix(end + 1);
    }
}

void print_block(const tell::Block& block, std::ostream& out) {
    switch (block.kind) {
        case Kind::heading:
            print_wrapped(out, in_capitals(block.text), 0, 2);
            break;
        case Kind::paragraph:
            print_wrapped(out, tell::unmarked(block.text), 0, 0);
            break;
        case Kind::item:
            print_wrapped(out, "- " + tell::unmarked(block.text), 0, 2);
            break;
        case Kind::table:
            print_pairs(block.rows, 0, out);
            break;
        case Kind::code:
            print_code(block, out);
            break;
    }
}

}  // namespace

void print_pairs(const std::vector<std::vector<std::string>>& rows, std::size_t indent,
                 std::ostream& out) {
    constexpr std::size_t gap = 2, widest_first = 26, least_second = 40;
    std::size_t first = 0;
    for (const auto& row : rows)
        first = std::max(first, columns(tell::unmarked(row.front())));
    first = std::min(first, widest_first);
    const bool beside = line_columns(out) >= indent + first + gap + least_second;
    const std::size_t second = indent + (beside ? first + gap : gap);
    for (const auto& row : rows) {
        std::string line = tell::unmarked(row.front());
        const std::string rest = tell::unmarked(row.back());
        if (!beside || columns(line) > first) {
            print_wrapped(out, line, indent, indent + gap);
            print_wrapped(out, rest, second, second);
            continue;
        }
        line.append(first + gap - columns(line), ' ');
        print_wrapped(out, line + rest, indent, second);
    }
}

void print(const tell::Topic& topic, std::ostream& out) {
    print_wrapped(out, topic.name + ": " + topic.summary, 0, 2);
    const tell::Block* before = nullptr;
    for (const tell::Block& block : topic.blocks) {
        // Lines of a list, and what a heading stands over, follow without a gap.
        const bool goes_on =
            before != nullptr && (before->kind == Kind::heading ||
                                  (before->kind == Kind::item && block.kind == Kind::item));
        if (!goes_on) out << '\n';
        print_block(block, out);
        before = &block;
    }
}

}  // namespace keyhour::cli
