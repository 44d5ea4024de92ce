#include "date_list.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "keyhour/site/dates.hpp"
#include "options.hpp"

namespace keyhour::cli {
namespace {

constexpr std::array weekday_names{"sunday",   "monday", "tuesday", "wednesday",
                                   "thursday", "friday", "saturday"};
constexpr const char* weekdays_wanted =
    "accepted: mon, tue, wed, thu, fri, sat, sun, by commas, as mon,tue";
constexpr const char* dates_wanted =
    "accepted: dates by commas, as 2026-03-10,2026-03-12, or a file with one a line";

/// By commas; blanks around a word do not count.
std::vector<std::string> words_of(const std::string& text) {
    std::vector<std::string> words;
    std::istringstream in{text};
    for (std::string word; std::getline(in, word, ',');) {
        const auto is_blank = [](unsigned char c) { return std::isspace(c) != 0; };
        word.erase(word.begin(), std::find_if_not(word.begin(), word.end(), is_blank));
        word.erase(std::find_if_not(word.rbegin(), word.rend(), is_blank).base(), word.end());
        if (!word.empty()) words.push_back(word);
    }
    return words;
}

/// [n]: is the n-th day of the week wanted, Sunday first?
Answer<std::array<bool, 7>> read_weekdays(const std::string& text) {
    std::array<bool, 7> wanted{};
    const auto words = words_of(text);
    if (words.empty()) return usage_failure(std::string{"--weekdays is empty; "} + weekdays_wanted);
    for (std::string word : words) {
        std::transform(word.begin(), word.end(), word.begin(),
                       [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        const auto at = std::find_if(
            weekday_names.begin(), weekday_names.end(),
            [&](const std::string& name) { return word == name || word == name.substr(0, 3); });
        if (at == weekday_names.end())
            return usage_failure("--weekdays: \"" + word + "\" is no day of the week; " +
                                 weekdays_wanted);
        wanted[static_cast<std::size_t>(at - weekday_names.begin())] = true;
    }
    return wanted;
}

/// The list itself, or what the file says; comments begin with #.
Answer<std::string> list_text(const std::string& dates) {
    if (dates.find_first_not_of("0123456789-, ") == std::string::npos) return dates;
    const auto words = words_of(dates);  // "Tue 17 February 2026"
    if (std::ranges::all_of(words, [](const auto& w) { return site::read_date(w).has_value(); }))
        return dates;
    std::error_code ignored;
    if (std::filesystem::is_fifo(dates, ignored) && !dates.starts_with("/dev/fd/"))
        return usage_failure("--dates: \"" + dates + "\" is no plain file; " + dates_wanted);
    std::ifstream in{dates};
    if (!in) return usage_failure("--dates: \"" + dates + "\" is no file to read; " + dates_wanted);
    std::string text;
    for (std::string line; std::getline(in, line);)
        text += line.substr(0, line.find('#')) + ',';
    return text;
}

}  // namespace

void DateListOptions::offer(Options& command) {
    range.offer(command);
    command.get_option("--date")->description("local date, YYYY-MM-DD");
    command.add_option("--dates", dates, "dates by commas, or a file with one a line")
        ->type_name("LIST|FILE");
    command.add_option("--weekdays", weekdays, "of these dates only, such as mon,tue")
        ->type_name("LIST");
}

Answer<std::vector<site::LocalDate>> DateListOptions::read_all() const {
    std::vector<site::LocalDate> out;
    const bool any_range = !range.date.empty() || !range.from.empty() || !range.to.empty();
    if (any_range == !dates.empty())
        return usage_failure(any_range ? "give --dates, or --date, or --from and --to: not both"
                                       : "which dates? give --date, --from and --to, or --dates");
    if (any_range) {
        const auto asked = range.read(site::Zone{}, Instant{});
        if (!asked) return tl::unexpected{asked.error()};
        for (site::LocalDate d = asked->first; d <= asked->last; d = site::next_day(d))
            out.push_back(d);
        return out;
    }
    const auto text = list_text(dates);
    if (!text) return tl::unexpected{text.error()};
    for (const std::string& word : words_of(*text)) {
        const auto date = site::read_date(word);
        if (!date) return usage_failure("--dates: " + date.error());
        out.push_back(*date);
    }
    if (out.empty()) return usage_failure(std::string{"--dates holds no date; "} + dates_wanted);
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

Answer<std::vector<site::LocalDate>> DateListOptions::read() const {
    auto all = read_all();
    if (!all || weekdays.empty()) return all;
    const auto wanted = read_weekdays(weekdays);
    if (!wanted) return tl::unexpected{wanted.error()};
    std::erase_if(*all, [&](site::LocalDate d) {
        return !(*wanted)[date::weekday{date::sys_days{d}}.c_encoding()];
    });
    if (all->empty()) return usage_failure("none of the dates falls on --weekdays " + weekdays);
    return all;
}

}  // namespace keyhour::cli
