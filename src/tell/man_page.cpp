#include "man_page.hpp"

#include <fmt/format.h>

namespace keyhour::tell {
namespace {

/// Text as roff prints it as it stands: a backslash is \e, a dash one that can be copied.
std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '\\':
                out += "\\e";
                break;
            case '-':
                out += "\\-";
                break;
            case '\'':
                out += "\\(aq";
                break;
            case '`':
                out += "\\(ga";
                break;
            case '^':
                out += "\\(ha";
                break;
            case '~':
                out += "\\(ti";
                break;
            default:
                out += c;
        }
    }
    return out;
}

/// A line of text; a point at its head would be a request.
std::string text_line(std::string line) {
    if (line.starts_with('.') || line.starts_with('\'')) line.insert(0, "\\&");
    return line + '\n';
}

std::string in_words(std::string_view marked) {
    std::string out;
    for (const StyledText& part : styled(marked)) {
        switch (part.style) {
            case Style::plain:
                out += escaped(part.text);
                break;
            case Style::italic:
                out += "\\fI" + escaped(part.text) + "\\fR";
                break;
            case Style::code:
            case Style::bold:
                out += "\\fB" + escaped(part.text) + "\\fR";
                break;
        }
    }
    return out;
}

/// Lines as they stand, without filling.
std::string as_it_stands(std::string_view lines) {
    std::string out = ".PP\n.RS 4\n.EX\n";
    while (!lines.empty()) {
        const std::size_t end = lines.find('\n');
        out += text_line(escaped(lines.substr(0, end)));
        lines.remove_prefix(end == std::string_view::npos ? lines.size() : end + 1);
    }
    return out + ".EE\n.RE\n";
}

std::string entry(const std::string& head, const std::string& text) {
    return ".TP\n" + text_line(head) + text_line(text);
}

std::string roff_table(const Block& block) {
    std::string out;
    for (std::size_t i = 1; i < block.rows.size(); ++i) {
        const auto& row = block.rows[i];
        out += entry(in_words(row.front()), in_words(row.back()));
    }
    return out;
}

std::string words_of(const Block& block) {
    switch (block.kind) {
        case Block::Kind::heading:
            return ".SH " + escaped(block.text) + '\n';
        case Block::Kind::paragraph:
            return ".PP\n" + text_line(in_words(block.text));
        case Block::Kind::item:
            return ".IP \\(bu 2\n" + text_line(in_words(block.text));
        case Block::Kind::table:
            return roff_table(block);
        case Block::Kind::code:
            return as_it_stands(block.text);
    }
    return {};
}

/// No date: the same program gives the same page.
std::string head(const std::string& name, int section, const std::string& summary,
                 const std::string& version) {
    return fmt::format(".TH \"{}\" \"{}\" \"\" \"keyhour {}\" \"keyhour\"\n.SH NAME\n{} \\- {}\n",
                       name, section, version, escaped(name), escaped(summary));
}

}  // namespace

std::string man_page(const Topic& topic, const std::string& version) {
    std::string out = head("keyhour-" + topic.name, 7, topic.summary, version);
    bool described = false;
    for (const Block& block : topic.blocks) {
        if (!described && block.kind != Block::Kind::heading) out += ".SH DESCRIPTION\n";
        described = true;
        out += words_of(block);
    }
    return out + fmt::format(".SH SEE ALSO\n.BR keyhour (1)\n");
}

std::string man_page(const CommandText& command, const std::string& version) {
    std::string out = head("keyhour-" + command.name, 1, command.summary, version);
    out += ".SH SYNOPSIS\n" +
           text_line("\\fBkeyhour " + escaped(command.name) + "\\fR " + escaped(command.usage));
    std::string group = "-";
    for (const CommandText::Entry& e : command.entries) {
        if (e.group != group) out += ".SH " + escaped(e.group.empty() ? "OPTIONS" : e.group) + '\n';
        group = e.group;
        const std::string value = e.value.empty() ? "" : " \\fI" + escaped(e.value) + "\\fR";
        out += entry("\\fB" + escaped(e.name) + "\\fR" + value, escaped(e.text));
    }
    if (!command.footer.empty()) out += ".SH NOTES\n" + as_it_stands(command.footer);
    return out + ".SH SEE ALSO\n.BR keyhour (1)\n";
}

std::string man_page(const std::string& what, const std::vector<CommandText>& commands,
                     const std::vector<Topic>& topics, const std::string& version) {
    std::string out =
        head("keyhour", 1, "when the sun gives a clean key, and for how long", version);
    out += ".SH SYNOPSIS\n\\fBkeyhour\\fR \\fICOMMAND\\fR [\\fIOPTIONS\\fR]\n.SH DESCRIPTION\n" +
           text_line(escaped(what)) + ".SH COMMANDS\n";
    for (const CommandText& c : commands)
        out += entry("\\fBkeyhour\\-" + escaped(c.name) + "\\fR(1)", escaped(c.summary));
    out += ".SH TOPICS\n";
    for (const Topic& t : topics)
        out += entry("\\fBkeyhour\\-" + escaped(t.name) + "\\fR(7)", escaped(t.summary));
    return out;
}

}  // namespace keyhour::tell
