#pragma once
// The places that a batch is asked about, one by one: files, folders, lines of JSON.

#include <fstream>
#include <iosfwd>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace keyhour::cli {

/// One part of one place's dates.
struct BatchItem {
    std::string source;                       // as answers call it: a path, or "standard input"
    std::string name;                         // as problems call it
    std::shared_ptr<const std::string> line;  // JSON; null: the file at `source` is to be read
    std::string fault;                        // there is no place here, and why
    std::size_t part = 0;                     // of the dates
    bool is_found = false;                    // in a folder, not named by the user
};

/// The names of the location files in a folder, ascending byte by byte; only some thousand are held
/// at a time, and the folder is looked through again for the next. A folder that cannot be read
/// ends nothing: it is told after the names.
class FolderNames {
public:
    FolderNames(std::string folder, bool recursive)
        : folder_{std::move(folder)}, recursive_{recursive} {}

    /// @return the next path, none at the end
    [[nodiscard]] std::optional<std::string> next();
    /// After the last name: the next folder that cannot be read and why, none at the end.
    [[nodiscard]] std::optional<std::string> next_fault();
    [[nodiscard]] std::size_t count();

private:
    void look();
    template <class See>
    void for_each_name(const See& see);

    std::string folder_, last_;
    std::set<std::string> faults_;
    bool recursive_ = false, is_done_ = false;
    std::vector<std::string> names_;  // descending
};

class BatchSource {
public:
    /// @param inputs  files, folders, "-" for `in`; what ends in .ndjson is read line by line
    /// @param parts   of each place's dates
    BatchSource(std::vector<std::string> inputs, bool recursive, std::size_t parts,
                std::istream& in);

    [[nodiscard]] std::optional<BatchItem> next();

    /// How many places there are; none if that shows only at the end.
    [[nodiscard]] std::optional<std::size_t> count() const;

private:
    std::optional<BatchItem> next_place();
    std::optional<BatchItem> next_in_folder();  // none at its end
    /// @return the place that the input is, or its fault; none where it holds places
    std::optional<BatchItem> begin(const std::string& input);
    void begin_lines(std::istream& in, const std::string& source);
    std::optional<BatchItem> next_line();

    std::vector<std::string> inputs_;
    std::size_t at_ = 0;
    bool recursive_;
    std::size_t parts_;
    std::istream& in_;
    std::optional<BatchItem> last_;  // more parts of it may follow
    std::optional<FolderNames> folder_;
    bool folder_is_empty_ = true;
    std::istream* lines_ = nullptr;
    std::ifstream line_file_;
    std::string line_source_;
    std::size_t line_number_ = 0;
};

}  // namespace keyhour::cli
