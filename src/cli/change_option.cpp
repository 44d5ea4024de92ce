#include "change_option.hpp"

#include "options.hpp"

namespace keyhour::cli {

void ChangeOption::offer(Options& command) {
    command.add_option(change_option, typed, "what if: a value changed, or several: A|B")
        ->type_name("NAME.KEY=VALUE")
        ->one_at_a_time();
}

read::Changes ChangeOption::changes() const {
    read::Changes out;
    for (const std::string& text : typed)
        out.push_back({text});
    return out;
}

}  // namespace keyhour::cli
