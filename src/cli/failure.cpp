#include "failure.hpp"

#include <ostream>

namespace keyhour::cli {

int report(const Failure& failure, std::ostream& err) {
    err << failure.message;
    if (failure.message.empty() || failure.message.back() != '\n') err << '\n';
    return failure.code;
}

}  // namespace keyhour::cli
