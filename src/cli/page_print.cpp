#include "page_print.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <fmt/ostream.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <ostream>
#include <system_error>
#include <thread>

extern char** environ;

namespace keyhour::cli {
namespace {

namespace fs = std::filesystem;

/// Looked for in this order; they understand the same flags.
constexpr std::array<const char*, 3> kBrowsers{"chromium", "chromium-browser", "google-chrome"};
constexpr const char* kDrawingPrinter = "rsvg-convert";
constexpr std::chrono::seconds kLongest{120};

/// The program's path, from PATH; empty if it is not there.
std::string on_path(const char* program) {
    const char* path = std::getenv("PATH");
    const std::string folders = path ? path : "";
    for (std::size_t at = 0; at <= folders.size();) {
        const std::size_t end = std::min(folders.find(':', at), folders.size());
        const fs::path here = fs::path{folders.substr(at, end - at)} / program;
        if (end > at && ::access(here.c_str(), X_OK) == 0) return here.string();
        at = end + 1;
    }
    return {};
}

/// A folder of its own under the system's temporary one, gone with this.
class TemporaryFolder {
public:
    TemporaryFolder() {
        std::error_code error;
        std::string name = (fs::temp_directory_path(error) / "keyhour-XXXXXX").string();
        if (!error && ::mkdtemp(name.data()) != nullptr) path_ = name;
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder() {
        std::error_code ignored;
        if (!path_.empty()) fs::remove_all(path_, ignored);
    }
    [[nodiscard]] const fs::path& path() const { return path_; }

private:
    fs::path path_;
};

/// Runs a program without input and without output, two minutes at most. @return did it succeed?
bool run(const std::vector<std::string>& words) {
    std::vector<char*> arguments;
    std::vector<std::string> copies = words;
    for (std::string& word : copies)
        arguments.push_back(word.data());
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    ::posix_spawn_file_actions_init(&actions);
    ::posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
    ::posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    ::posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    pid_t child = 0;
    const int fault =
        ::posix_spawn(&child, arguments[0], &actions, nullptr, arguments.data(), environ);
    ::posix_spawn_file_actions_destroy(&actions);
    if (fault != 0) return false;
    const auto until = std::chrono::steady_clock::now() + kLongest;
    int status = 0;
    for (;;) {
        const pid_t done = ::waitpid(child, &status, WNOHANG);
        if (done == child) return WIFEXITED(status) && WEXITSTATUS(status) == 0;
        if (done < 0 && errno != EINTR) return false;
        if (std::chrono::steady_clock::now() > until) {
            ::kill(child, SIGKILL);
            (void)::waitpid(child, &status, 0);
            return false;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds{20});
    }
}

std::string content_of(const fs::path& path) {
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

/// What the printer made, put in its place with keyhour's mark behind its end.
std::optional<Failure> keep(const fs::path& made, const std::string& path, bool force,
                            std::ostream& out) {
    std::string pdf = content_of(made);
    if (!pdf.starts_with("%PDF-")) return Failure{bad_data, path + ": the printer made no PDF"};
    pdf += "\n% keyhour light sheet\n";
    if (auto failure = write_file(path, pdf, force)) return failure;
    fmt::print(out, "{}\n", path);
    return std::nullopt;
}

std::optional<Failure> print_page(const std::string& browser, const fs::path& page, bool force,
                                  std::ostream& out) {
    const std::string path = fs::path{page}.replace_extension(".pdf").string();
    if (auto failure = may_write(path, force)) return failure;
    const TemporaryFolder folder;
    const fs::path made = folder.path() / "sheet.pdf", own = folder.path() / "sheet.html";
    std::error_code error;
    fs::copy_file(page, own, error);  // a path without signs that a URL would have to escape
    std::vector<std::string> words{browser,
                                   "--headless",
                                   "--disable-gpu",
                                   "--no-first-run",
                                   "--disable-extensions",
                                   "--disable-background-networking",
                                   "--host-resolver-rules=MAP * ~NOTFOUND",
                                   "--no-pdf-header-footer",
                                   "--print-to-pdf-no-header",
                                   "--user-data-dir=" + (folder.path() / "profile").string(),
                                   "--print-to-pdf=" + made.string()};
    if (::geteuid() == 0) words.emplace_back("--no-sandbox");  // it refuses root otherwise
    words.push_back("file://" + own.string());
    if (error || !run(words))
        return Failure{bad_data, fmt::format("{}: {} could not print it", page.string(), browser)};
    return keep(made, path, force, out);
}

std::optional<Failure> print_drawings(const std::string& printer, const std::string& folder,
                                      const std::vector<SheetFile>& files, bool force,
                                      std::ostream& out) {
    const TemporaryFolder own;
    const fs::path made = own.path() / "sheet.pdf";
    std::vector<std::string> words{printer, "-f", "pdf", "-o", made.string()};
    for (const SheetFile& f : files)
        if (f.name.ends_with(".svg")) words.push_back((fs::path{folder} / f.name).string());
    const std::string path = (fs::path{folder} / "sheet.pdf").string();
    if (!run(words)) return Failure{bad_data, path + ": " + printer + " could not make it"};
    if (auto failure = keep(made, path, force, out)) return failure;
    fmt::print(out, "no browser is at hand: {} holds the drawings alone, without the tables\n",
               path);
    return std::nullopt;
}

}  // namespace

std::optional<Failure> print_pages(const std::string& folder, const std::vector<SheetFile>& files,
                                   bool force, std::ostream& out) {
    std::string browser;
    for (const char* name : kBrowsers)
        if (browser.empty()) browser = on_path(name);
    if (browser.empty()) {
        const bool drawn =
            std::ranges::any_of(files, [](const SheetFile& f) { return f.name.ends_with(".svg"); });
        const std::string printer = drawn ? on_path(kDrawingPrinter) : std::string{};
        if (!printer.empty()) return print_drawings(printer, folder, files, force, out);
        return Failure{bad_data,
                       fmt::format("--pdf: neither a browser ({}) nor {} is at hand; all else is "
                                   "written: print the page from any browser",
                                   kBrowsers[0], kDrawingPrinter)};
    }
    for (const SheetFile& f : files) {
        if (!f.name.ends_with(".html")) continue;
        if (auto failure = print_page(browser, fs::path{folder} / f.name, force, out))
            return failure;
    }
    return std::nullopt;
}

}  // namespace keyhour::cli
