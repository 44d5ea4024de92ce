#include "variants_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "answer_facts.hpp"
#include "csv.hpp"
#include "keyhour/version.hpp"
#include "words/display_width.hpp"
#include "words/shown.hpp"

namespace keyhour::tell {
namespace {

constexpr const char* as_filed = "as the file says";
constexpr std::size_t gap = 2, narrowest_cell = 14, widest_label = 22;

using Cells = std::vector<std::string>;

/// Rows of a label and a cell a variant; what a variant does not have is empty.
struct Grid {
    Cells labels;
    std::vector<Cells> cells;  ///< of each variant
};

/// The labels of all, each where it first stands in its own order.
Cells labels_of(const std::vector<AnswerFacts>& facts) {
    Cells out;
    for (const AnswerFacts& of : facts) {
        std::size_t at = 0;
        for (const AnswerFact& fact : of) {
            const auto found = std::ranges::find(out, fact.label);
            if (found != out.end()) {
                at = static_cast<std::size_t>(found - out.begin()) + 1;
            } else {
                out.insert(out.begin() + static_cast<std::ptrdiff_t>(at), fact.label);
                ++at;
            }
        }
    }
    return out;
}

Grid grid_of(const std::string& command, const std::vector<Variant>& variants, bool shown) {
    std::vector<AnswerFacts> facts;
    for (const Variant& variant : variants) {
        facts.push_back(answer_facts(command, variant.answer));
        if (!shown) continue;
        for (AnswerFact& fact : facts.back()) {
            fact.label = words::escaped(fact.label);
            fact.text = words::escaped(fact.text);
        }
    }
    Grid out{labels_of(facts), {}};
    for (const AnswerFacts& of : facts) {
        Cells column;
        for (const std::string& label : out.labels) {
            const auto at = std::ranges::find(of, label, &AnswerFact::label);
            column.push_back(at == of.end() ? std::string{} : at->text);
        }
        out.cells.push_back(std::move(column));
    }
    return out;
}

std::string csv_cell(const std::string& text) {
    return csv_field(csv_text(text));
}

/// Broken at blanks to a width; a longer word anywhere.
Cells broken(std::string_view text, std::size_t width) {
    Cells lines;
    while (!text.empty()) {
        std::string_view line = words::first_columns(text, width);
        if (line.empty()) line = text.substr(0, 1);
        if (line.size() < text.size() && text[line.size()] != ' ')
            if (const std::size_t blank = line.rfind(' ');
                blank != std::string_view::npos && blank > 0)
                line = line.substr(0, blank);
        lines.emplace_back(line);
        text.remove_prefix(line.size());
        text.remove_prefix(std::min(text.find_first_not_of(' '), text.size()));
    }
    return lines;
}

/// Cells side by side, each broken within its width.
void add_row(Cells& lines, const Cells& row, const std::vector<std::size_t>& widths) {
    std::vector<Cells> parts;
    std::size_t height = 0;
    for (std::size_t i = 0; i < row.size(); ++i) {
        parts.push_back(broken(row[i], widths[i]));
        height = std::max(height, parts.back().size());
    }
    for (std::size_t n = 0; n < height; ++n) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i) {
            const std::string part = n < parts[i].size() ? parts[i][n] : std::string{};
            line += part;
            line.append(widths[i] - std::min(widths[i], words::columns(part)) + gap, ' ');
        }
        line.erase(line.find_last_not_of(' ') + 1);
        lines.push_back(std::move(line));
    }
}

std::size_t widest(const Cells& texts) {
    std::size_t out = 0;
    for (const std::string& text : texts)
        out = std::max(out, words::columns(text));
    return out;
}

/// A grid of the file's column and those of `which`.
void add_grid(Cells& lines, const Grid& grid, const Cells& heads,
              const std::vector<std::size_t>& which, std::size_t columns) {
    const std::size_t label = std::min(widest(grid.labels), columns >= 60 ? widest_label : 10);
    const std::size_t cell = (columns - label) / which.size() - gap;
    std::vector<std::size_t> widths{label};
    Cells head{""};
    for (const std::size_t i : which) {
        widths.push_back(cell);
        head.push_back(heads[i]);
    }
    add_row(lines, head, widths);
    for (std::size_t row = 0; row < grid.labels.size(); ++row) {
        Cells cells{grid.labels[row]};
        for (const std::size_t i : which)
            cells.push_back(grid.cells[i][row]);
        add_row(lines, cells, widths);
    }
}

}  // namespace

std::vector<std::string> variants_lines(const std::string& command,
                                        const std::vector<Variant>& variants, std::size_t columns) {
    const Grid grid = grid_of(command, variants, true);
    Cells heads;
    for (const Variant& variant : variants)
        heads.push_back(variant.change.empty() ? as_filed : words::escaped(variant.change));
    const std::size_t label = columns >= 60 ? widest_label : 10;
    const std::size_t fit =
        std::max<std::size_t>((columns - label) / (narrowest_cell + gap), 2) - 1;
    Cells lines;
    for (std::size_t from = 1; from < variants.size(); from += fit) {
        std::vector<std::size_t> which{0};
        for (std::size_t i = from; i < std::min(from + fit, variants.size()); ++i)
            which.push_back(i);
        if (!lines.empty()) lines.emplace_back();
        add_grid(lines, grid, heads, which, columns);
    }
    return lines;
}

Json variants_json(const std::string& command, const std::vector<Variant>& variants) {
    Json out;
    out["keyhour"] = version();
    out["question"] = "what if";
    out["command"] = command;
    out["variants"] = Json::array();
    for (const Variant& variant : variants)
        out["variants"].push_back(
            {{"change", variant.change.empty() ? Json() : Json(variant.change)},
             {"answer", variant.answer}});
    return out;
}

std::string variants_csv(const std::string& command, const std::vector<Variant>& variants) {
    const Grid grid = grid_of(command, variants, false);
    std::string out = "fact";
    for (const Variant& variant : variants)
        out += fmt::format(",{}", csv_cell(variant.change.empty() ? as_filed : variant.change));
    out += "\r\n";
    for (std::size_t row = 0; row < grid.labels.size(); ++row) {
        out += csv_cell(grid.labels[row]);
        for (const Cells& column : grid.cells)
            out += fmt::format(",{}", csv_cell(column[row]));
        out += "\r\n";
    }
    return out;
}

}  // namespace keyhour::tell
