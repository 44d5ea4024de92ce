#include <iostream>
#include <string_view>

#include "keyhour/version.hpp"

int main(int argc, char** argv) {
    if (argc > 1 && std::string_view{argv[1]} == "--version") {
        std::cout << "keyhour " << keyhour::version() << '\n';
        return 0;
    }
    return 2;
}
