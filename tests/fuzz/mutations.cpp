// Runs a fuzzer over its seeds and over seeded mutations of them.
//   fuzz_NAME FIRST COUNT SEEDS_FOLDER...     COUNT of them, or as many as a time takes: 60s
// The sanitizers stop it at a fault; the number of the mutation that led there is printed.

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t n);
// The sanitizers call this before they end the program.
extern "C" void __sanitizer_set_death_callback(void (*)());

namespace {

constexpr std::size_t longest_input = 64 << 10U;

std::uint64_t at_mutation = 0;

void tell_mutation() {
    std::fprintf(stderr, "at mutation %llu\n", static_cast<unsigned long long>(at_mutation));
}

/// What readers trip over more often than over single bits.
constexpr std::array<const char*, 24> tokens{
    "1e999", "-1",         "0",  "nan", "inf",  "1e-320", "99999999999999999999",
    "\"",    "'",          "\n", "\r",  "=",    "[[",     "]]",
    "{",     "}",          ",",  "\\u", "\x1b", "\xff",   "\xc3",
    "1'2\"", "2026-02-30", "#"};

std::vector<std::string> seeds_in(const std::vector<std::string>& folders) {
    std::vector<std::filesystem::path> paths;
    for (const std::string& folder : folders)
        for (const auto& entry : std::filesystem::directory_iterator{folder})
            if (entry.is_regular_file()) paths.push_back(entry.path());
    std::sort(paths.begin(), paths.end());
    std::vector<std::string> seeds;
    for (const auto& path : paths) {
        std::ifstream in{path, std::ios::binary};
        seeds.emplace_back(std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{});
    }
    return seeds;
}

class Mutator {
public:
    Mutator(const std::vector<std::string>& seeds, std::uint64_t number)
        : seeds_{seeds}, random_{number} {}

    std::string operator()() {
        std::string text = seeds_[below(seeds_.size())];
        for (std::size_t i = 0, n = 1 + below(6); i < n; ++i)
            change(text);
        if (text.size() > longest_input) text.resize(longest_input);
        return text;
    }

private:
    std::size_t below(std::size_t n) { return n == 0 ? 0 : random_() % n; }

    void change(std::string& text) {
        const std::size_t at = below(text.size() + 1);
        const std::size_t length = below(std::min<std::size_t>(text.size() - at + 1, 40));
        switch (below(7)) {
            case 0:
                if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << below(8)));
                break;
            case 1:
                if (at < text.size()) text[at] = static_cast<char>(below(256));
                break;
            case 2:
                text.insert(at, 1, static_cast<char>(below(256)));
                break;
            case 3:
                text.erase(at, length);
                break;
            case 4:
                text.insert(below(text.size() + 1), text.substr(at, length));
                break;
            case 5:
                text.replace(at, length, tokens[below(tokens.size())]);
                break;
            default: {
                const std::string& other = seeds_[below(seeds_.size())];
                text = text.substr(0, at) + other.substr(below(other.size() + 1));
            }
        }
    }

    const std::vector<std::string>& seeds_;
    std::mt19937_64 random_;
};

/// So many mutations, or as many as a time takes.
class Bounds {
public:
    explicit Bounds(const std::string& written) {
        if (written.ends_with('s'))
            end_ = std::chrono::steady_clock::now() + std::chrono::seconds{std::stoi(written)};
        else
            count_ = std::stoull(written);
    }
    [[nodiscard]] bool hold(std::uint64_t done) const {
        return end_ ? std::chrono::steady_clock::now() < *end_ : done < count_;
    }

private:
    std::uint64_t count_ = 0;
    std::optional<std::chrono::steady_clock::time_point> end_;
};

void run(const std::string& input) {
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
}

}  // namespace

int main(int argc, char** argv) {
    const std::vector<std::string> arguments(argv + 1, argv + argc);
    if (arguments.size() < 3) {
        std::fprintf(stderr, "usage: %s FIRST COUNT|SECONDSs SEEDS_FOLDER...\n", argv[0]);
        return 2;
    }
    const std::vector<std::string> seeds = seeds_in({arguments.begin() + 2, arguments.end()});
    if (seeds.empty()) {
        std::fprintf(stderr, "no seeds in %s\n", arguments[2].c_str());
        return 1;
    }
    for (const std::string& seed : seeds)
        run(seed);
    const std::uint64_t first = std::stoull(arguments[0]);
    const Bounds bounds{arguments[1]};
    __sanitizer_set_death_callback(tell_mutation);
    for (at_mutation = first; bounds.hold(at_mutation - first); ++at_mutation)
        run(Mutator{seeds, at_mutation}());
    std::printf("%zu seeds and %llu mutations\n", seeds.size(),
                static_cast<unsigned long long>(at_mutation - first));
}
