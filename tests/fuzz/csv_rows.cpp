#include <sstream>

#include "read/csv_reader.hpp"
#include "reader.hpp"
#include "tell/csv.hpp"

KEYHOUR_FUZZ_READER(text) {
    using keyhour::read::CsvReader;
    std::istringstream in{std::string{text}};
    CsvReader reader{in};
    std::vector<std::string> fields;
    while (reader.next(fields) != CsvReader::Outcome::end)
        for (const std::string& field : fields)
            (void)keyhour::tell::csv_text(field);
}
