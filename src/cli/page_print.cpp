#include "page_print.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <ostream>
#include <system_error>

#include "held_stop.hpp"
#include "other_program.hpp"
#include "own_output.hpp"

namespace keyhour::cli {
namespace {

namespace fs = std::filesystem;

/// Looked for in this order; they understand the same flags.
constexpr std::array<const char*, 3> kBrowsers{"chromium", "chromium-browser", "google-chrome"};
constexpr const char* kDrawingPrinter = "rsvg-convert";
constexpr std::chrono::seconds kLongest{120};

/// A folder of its own under the system's temporary one, gone with this.
class TemporaryFolder {
public:
    TemporaryFolder() {
        std::error_code error;
        std::string name = (fs::temp_directory_path(error) / "keyhour-XXXXXX").string();
        if (error)
            why_not_ = error.message();
        else if (::mkdtemp(name.data()) == nullptr)
            why_not_ = std::strerror(errno);
        else
            path_ = name;
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder() {
        std::error_code ignored;
        if (!path_.empty()) fs::remove_all(path_, ignored);
    }
    [[nodiscard]] const fs::path& path() const { return path_; }
    /// Nothing if it is there.
    [[nodiscard]] std::optional<Failure> failure() const {
        if (!path_.empty()) return std::nullopt;
        return Failure{bad_data, "--pdf: no temporary folder can be made (TMPDIR): " + why_not_};
    }

private:
    fs::path path_;
    std::string why_not_;
};

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

std::string unprinted(const std::string& what, const std::string& printer, Ending ending) {
    return ending == Ending::too_long ? fmt::format("{}: {} took longer than {} s to print it",
                                                    what, printer, kLongest.count())
                                      : fmt::format("{}: {} could not print it", what, printer);
}

/// A file: URL (RFC 8089): what has a meaning in a URL, or is no ASCII, is percent-encoded.
std::string file_url(const fs::path& path) {
    std::string out = "file://";
    for (const char c : fs::absolute(path).string()) {
        const bool is_plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                              (c >= '0' && c <= '9') ||
                              std::string_view{"/-._~"}.find(c) != std::string_view::npos;
        out += is_plain ? std::string{c} : fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
    return out;
}

std::optional<Failure> print_page(const std::string& browser, const fs::path& page, bool force,
                                  std::ostream& out) {
    const std::string path = fs::path{page}.replace_extension(".pdf").string();
    if (auto failure = may_write(path, force, {})) return failure;
    const TemporaryFolder folder;
    if (auto failure = folder.failure()) return failure;
    const fs::path made = folder.path() / "sheet.pdf", own = folder.path() / "sheet.html";
    std::error_code error;
    fs::copy_file(page, own, error);
    if (error) return Failure{bad_data, fmt::format("{}: {}", own.string(), error.message())};
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
    words.push_back(file_url(own));
    const Ending ending = run_to_end(words, kLongest);
    if (ending != Ending::succeeded)
        return Failure{bad_data, unprinted(page.string(), browser, ending)};
    return keep(made, path, force, out);
}

/// The millimetres that a drawing says of itself: width="180mm".
double size_mm(const std::string& svg, const char* name) {
    const std::string before = fmt::format(" {}=\"", name);
    const std::size_t at = svg.find(before);
    return at == std::string::npos ? 0 : std::strtod(svg.c_str() + at + before.size(), nullptr);
}

/// An A4 page for each drawing, at full size as its scale says; pages of their own for larger ones.
std::vector<std::string> paper_for(const std::vector<SheetFile>& files) {
    constexpr double margin_mm = 15, a4_width_mm = 210, a4_height_mm = 297;
    const bool fits = std::ranges::all_of(files, [&](const SheetFile& f) {
        return !f.name.ends_with(".svg") ||
               (size_mm(f.content, "width") <= a4_width_mm - 2 * margin_mm &&
                size_mm(f.content, "height") <= a4_height_mm - 2 * margin_mm);
    });
    if (!fits) return {};
    return {fmt::format("--page-width={}mm", a4_width_mm),
            fmt::format("--page-height={}mm", a4_height_mm), fmt::format("--left={}mm", margin_mm),
            fmt::format("--top={}mm", margin_mm)};
}

std::optional<Failure> print_drawings(const std::string& printer, const std::string& folder,
                                      const std::vector<SheetFile>& files, bool force,
                                      std::ostream& out, std::ostream& err) {
    const std::string path = (fs::path{folder} / "sheet.pdf").string();
    if (auto failure = may_write(path, force, {})) return failure;
    const TemporaryFolder own;
    if (auto failure = own.failure()) return failure;
    const fs::path made = own.path() / "sheet.pdf";
    std::vector<std::string> words{printer, "-f", "pdf", "-o", made.string()};
    std::ranges::copy(paper_for(files), std::back_inserter(words));
    for (const SheetFile& f : files)
        if (f.name.ends_with(".svg"))
            words.push_back(fs::absolute(fs::path{folder} / f.name).string());
    const Ending ending = run_to_end(words, kLongest);
    if (ending != Ending::succeeded) return Failure{bad_data, unprinted(path, printer, ending)};
    if (auto failure = keep(made, path, force, out)) return failure;
    fmt::print(err,
               "--pdf: no browser ({}) is at hand: {} holds the drawings alone, without the "
               "tables; print the page itself from any browser\n",
               kBrowsers[0], path);
    return std::nullopt;
}

Failure nothing_prints(bool drawn) {
    if (!drawn && !on_path(kDrawingPrinter).empty())
        return {bad_data,
                fmt::format("--pdf: no browser ({}) is at hand, and {} prints drawings alone, "
                            "which --only leaves away; all else is written: print the page from "
                            "any browser",
                            kBrowsers[0], kDrawingPrinter)};
    return {bad_data, fmt::format("--pdf: neither a browser ({}) nor {} is at hand; all else is "
                                  "written: print the page from any browser",
                                  kBrowsers[0], kDrawingPrinter)};
}

std::optional<Failure> print_all(const std::string& folder, const std::vector<SheetFile>& files,
                                 bool force, std::ostream& out, std::ostream& err) {
    std::string browser;
    for (const char* name : kBrowsers)
        if (browser.empty()) browser = on_path(name);
    if (browser.empty()) {
        const bool drawn =
            std::ranges::any_of(files, [](const SheetFile& f) { return f.name.ends_with(".svg"); });
        const std::string printer = drawn ? on_path(kDrawingPrinter) : std::string{};
        if (printer.empty()) return nothing_prints(drawn);
        return print_drawings(printer, folder, files, force, out, err);
    }
    for (const SheetFile& f : files) {
        if (!f.name.ends_with(".html")) continue;
        if (auto failure = print_page(browser, fs::path{folder} / f.name, force, out))
            return failure;
    }
    return std::nullopt;
}

}  // namespace

std::optional<Failure> print_pages(const std::string& folder, const std::vector<SheetFile>& files,
                                   bool force, std::ostream& out, std::ostream& err) {
    const HeldStop stop;  // temporary folders go before it obeys
    return print_all(folder, files, force, out, err);
}

}  // namespace keyhour::cli
