#include "batch_parts.hpp"

#include <fmt/format.h>

#include "document.hpp"
#include "keyhour/version.hpp"

namespace keyhour::tell {

Json start_line(const BatchSubject& subject, const std::string& name, const char* question) {
    Json line;
    line["keyhour"] = version();
    line["location"] = name;
    line["source"] = subject.source;
    line["questions"] = subject.questions;
    line["question"] = question;
    if (subject.is_range) {
        line["from"] = site::iso_date(subject.first);
        line["to"] = site::iso_date(subject.last);
    } else {
        line["date"] = site::iso_date(subject.first);
    }
    return line;
}

std::string line_of(const Json& document) {
    return json_text(document) + '\n';
}

CsvRow start_record(const BatchSubject& subject, const std::string& name) {
    CsvRow record;
    record.text(name).text(subject.source).date(subject.first).date(subject.last);
    return record;
}

std::string questions_of(const BatchSubject& subject) {
    return fmt::format("{}", fmt::join(subject.questions, " "));
}

}  // namespace keyhour::tell
