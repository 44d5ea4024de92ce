#include "page_table.hpp"

#include <fmt/format.h>

#include "draw/svg.hpp"

namespace keyhour::tell {

std::string table(const Rows& head, const std::string& rows) {
    if (rows.empty()) return {};
    std::string cells;
    for (const std::string& h : head)
        cells += fmt::format("<th scope=\"col\">{}</th>", draw::escaped(h));
    return fmt::format("<table>\n<thead><tr>{}</tr></thead>\n<tbody>\n{}</tbody>\n</table>\n",
                       cells, rows);
}

std::string row(const Rows& cells) {
    std::string out = "<tr>";
    for (std::size_t i = 0; i < cells.size(); ++i)
        out += i == 0 ? fmt::format("<th scope=\"row\">{}</th>", cells[i])
                      : fmt::format("<td>{}</td>", cells[i]);
    return out + "</tr>\n";
}

std::string below(const std::string& text) {
    return text.empty() ? std::string{}
                        : fmt::format("<span class=\"below\">{}</span>", draw::escaped(text));
}

std::string name_cell(const std::string& text) {
    return fmt::format("<span class=\"name\">{}</span>", draw::escaped(text));
}

std::string times(const std::string& text) {
    return fmt::format("<span class=\"time\">{}</span>", draw::escaped(text));
}

std::string note(const std::string& text) {
    return fmt::format("<p class=\"note\">{}</p>\n", draw::escaped(text));
}

}  // namespace keyhour::tell
