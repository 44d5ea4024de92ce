#include "held_files.hpp"

#include <fmt/format.h>

#include <utility>

namespace keyhour::file {
namespace {

const HeldFiles*& held_now() {
    thread_local const HeldFiles* held = nullptr;
    return held;
}

}  // namespace

HeldFiles::HeldFiles(std::map<std::string, std::string> texts)
    : texts_{std::move(texts)}, before_{held_now()} {
    held_now() = this;
}

HeldFiles::~HeldFiles() {
    held_now() = before_;
}

const HeldFiles* HeldFiles::now() noexcept {
    return held_now();
}

tl::expected<std::string, Problem> HeldFiles::contents(const std::string& path,
                                                       std::size_t most_bytes,
                                                       const std::string& what,
                                                       const std::string& accepted) const {
    const auto refused = [&](std::string found, std::string wanted) {
        return tl::unexpected{Problem{path, 0, 0, std::move(found), std::move(wanted), {}}};
    };
    const auto at = texts_.find(path);
    if (at == texts_.end()) return refused("the file was not handed over", accepted);
    if (at->second.size() > most_bytes)
        return refused("the file is too large",
                       fmt::format("{} holds up to {} MiB", what, most_bytes >> 20U));
    return at->second;
}

}  // namespace keyhour::file
