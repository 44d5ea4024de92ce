// The door for a page without a page: a request a line on standard input, a reply a line on
// standard output.
#include <iostream>
#include <string>

#include "pocket/answer.hpp"

int main() {
    std::ios::sync_with_stdio(false);
    for (std::string line; std::getline(std::cin, line);)
        std::cout << keyhour::pocket::answer(line) << std::endl;
}
