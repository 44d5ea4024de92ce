#pragma once
/// @file
/// The program behind a page: a question in, its answer out, both JSON, nothing else touched. The
/// questions are those of the command line, answered by the same code in the same words.

#include <string>
#include <string_view>

namespace keyhour::pocket {

/// @param request_json  one JSON object. `ask` says the question; `location` the text of a location
///        file, `name` what to call it, `files` texts of files that it names; `changes` values laid
///        over it; `columns` the width of lines (40 to 80); `want` which parts of the answer
///        ("lines", "document", "drawings"). Everything else is an option of the question by its
///        name on the command line without the dashes.
/// @return {"ok": true, "lines": [...], "document": {...}, ...}, or
///         {"ok": false, "problems": [{"line", "column", "field", "text"}]}, whatever came in. One
///         line without a newline.
[[nodiscard]] std::string answer(std::string_view request_json);

}  // namespace keyhour::pocket
