#include "show_option.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "keyhour/site/nearest.hpp"
#include "words/blanks.hpp"

namespace keyhour::cli {
namespace {

constexpr const char* everything = "all";

std::vector<std::string> words_of(tell::Details accepted) {
    std::vector<std::string> words;
    for (const tell::DetailWord& known : tell::detail_words)
        if (accepted.has(known.detail)) words.emplace_back(known.word);
    words.emplace_back(everything);
    return words;
}

}  // namespace

std::string ShowOption::words() const {
    return fmt::format("{}", fmt::join(words_of(accepted_), ", "));
}

void ShowOption::offer(Options& command) {
    command.add_option("--show", asked_, "more: " + words())->type_name("WHAT,...");
}

Answer<tell::Details> ShowOption::read() const {
    tell::Details shown;
    for (std::size_t at = 0; !asked_.empty() && at <= asked_.size();) {
        const std::size_t comma = std::min(asked_.find(',', at), asked_.size());
        const std::string word{words::stripped(asked_.substr(at, comma - at))};
        at = comma + 1;
        if (word == everything) {
            shown = accepted_;
            continue;
        }
        bool known = false;
        for (const tell::DetailWord& d : tell::detail_words)
            if (word == d.word && accepted_.has(d.detail)) {
                shown.add(d.detail);
                known = true;
            }
        if (known) continue;
        const auto nearest = site::nearest(word, words_of(accepted_));
        return usage_failure(fmt::format("--show \"{}\": {}accepted: {}", word,
                                         nearest ? "did you mean \"" + *nearest + "\"? " : "",
                                         words()));
    }
    return shown;
}

}  // namespace keyhour::cli
