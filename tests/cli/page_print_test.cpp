// Printing by programs of the test's own, which stand alone on PATH.

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

namespace fs = std::filesystem;

namespace {

/// PATH is one folder, with programs that are scripts of /bin/sh.
class OnlyPath {
public:
    explicit OnlyPath(const fs::path& folder) : folder_{folder} {
        const char* path = std::getenv("PATH");
        before_ = path ? path : "";
        fs::create_directories(folder);
        ::setenv("PATH", folder.c_str(), 1);
    }
    OnlyPath(const OnlyPath&) = delete;
    OnlyPath& operator=(const OnlyPath&) = delete;
    ~OnlyPath() { ::setenv("PATH", before_.c_str(), 1); }

    void add(const char* name, const std::string& script) const {
        std::ofstream{folder_ / name} << "#!/bin/sh\n" << script;
        fs::permissions(folder_ / name, fs::perms::owner_all);
    }

private:
    fs::path folder_;
    std::string before_;
};

// Both printers take the file to make: --print-to-pdf=FILE, -o FILE.
constexpr const char* browser =
    "for word; do case $word in --print-to-pdf=*) made=${word#*=} ;; esac; done\n"
    "printf '%%PDF-1.4 made' >\"$made\"\n";
constexpr const char* drawing_printer =
    "words=$*\nwhile [ \"$1\" != -o ]; do shift; done\n"
    "printf '%%PDF-1.4 %s' \"$words\" >\"$2\"\n";

std::string bytes(const fs::path& path) {
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

Outcome print(const fs::path& out, const std::vector<std::string>& more = {}) {
    std::vector<std::string> words{
        "sheet", example("tallow-lane"), "--date", "2026-02-14", "--pdf", "--out", out.string()};
    words.insert(words.end(), more.begin(), more.end());
    return run_program(words);
}

}  // namespace

TEST_CASE("printing replaces its own PDF, and another's only if forced", "[cli]") {
    const ScratchFolder folder{"keyhour_pdf_own"};
    const OnlyPath path{folder.path / "bin"};
    path.add("chromium", browser);
    const fs::path out = folder.path / "out";
    const Outcome first = print(out, {"--only", "page"});
    CAPTURE(first.err);
    REQUIRE(first.code == 0);
    CHECK(holds(first.out, "sheet.pdf\n"));
    CHECK(first.err.empty());
    CHECK(bytes(out / "sheet.pdf") == "%PDF-1.4 made\n% keyhour light sheet\n");
    CHECK(print(out, {"--only", "page"}).code == 0);
    std::ofstream{out / "sheet.pdf"} << "%PDF-1.4 somebody else's";
    const Outcome refused = print(out, {"--only", "page"});
    CHECK(refused.code == 1);
    CHECK(holds(refused.err, "--force"));
    CHECK(bytes(out / "sheet.pdf") == "%PDF-1.4 somebody else's");
    CHECK(print(out, {"--only", "page", "--force"}).code == 0);
}

TEST_CASE("a browser that fails, or makes no PDF, is named, and the page stays", "[cli]") {
    const ScratchFolder folder{"keyhour_pdf_fails"};
    const OnlyPath path{folder.path / "bin"};
    path.add("chromium", "exit 1\n");
    const fs::path out = folder.path / "out";
    const Outcome failed = print(out, {"--only", "page"});
    CHECK(failed.code == 1);
    CHECK(holds(failed.err, "chromium could not print it"));
    path.add("chromium", "exit 0\n");
    const Outcome empty = print(out, {"--only", "page"});
    CHECK(empty.code == 1);
    CHECK(holds(empty.err, "the printer made no PDF"));
    CHECK(fs::exists(out / "sheet.html"));
    CHECK_FALSE(fs::exists(out / "sheet.pdf"));
}

TEST_CASE("without a temporary folder nothing is printed, and nothing written elsewhere", "[cli]") {
    const ScratchFolder folder{"keyhour_pdf_temporary"};
    const OnlyPath path{folder.path / "bin"};
    path.add("chromium", browser);
    const char* before = std::getenv("TMPDIR");
    const std::string kept = before ? before : "";
    ::setenv("TMPDIR", (folder.path / "absent").c_str(), 1);
    const Outcome outcome = print(folder.path / "out", {"--only", "page"});
    before ? ::setenv("TMPDIR", kept.c_str(), 1) : ::unsetenv("TMPDIR");
    CHECK(outcome.code == 1);
    CHECK(holds(outcome.err, "no temporary folder can be made (TMPDIR): "));
    CHECK_FALSE(fs::exists(folder.path / "out" / "sheet.pdf"));
    CHECK_FALSE(fs::exists("sheet.html"));  // in the folder of the test
}

TEST_CASE("signs of a URL in the temporary folder's name are encoded", "[cli]") {
    const ScratchFolder folder{"keyhour_pdf_url"};
    const OnlyPath path{folder.path / "bin"};
    // Like a browser: takes what follows # for a fragment, and %41 for A.
    path.add("chromium", std::string{browser} + "case $word in file://*[#\\ ]*) exit 1 ;; esac\n" +
                             "printf %s \"$word\" >\"" + (folder.path / "url").string() + "\"\n");
    const fs::path odd = folder.path / "to#be %41 \u00e9";
    fs::create_directories(odd);
    const char* before = std::getenv("TMPDIR");
    const std::string kept = before ? before : "";
    ::setenv("TMPDIR", odd.c_str(), 1);
    const Outcome outcome = print(folder.path / "out", {"--only", "page"});
    before ? ::setenv("TMPDIR", kept.c_str(), 1) : ::unsetenv("TMPDIR");
    CAPTURE(outcome.err);
    CHECK(outcome.code == 0);
    const std::string url = bytes(folder.path / "url");
    CAPTURE(url);
    CHECK(url.starts_with("file:///"));
    CHECK(holds(url, "/to%23be%20%2541%20%C3%A9/keyhour-"));
    CHECK(url.ends_with("/sheet.html"));
}

TEST_CASE("a folder named as the browser is not the browser", "[cli]") {
    const ScratchFolder folder{"keyhour_pdf_folder"};
    const OnlyPath path{folder.path / "bin"};
    fs::create_directories(folder.path / "bin" / "chromium");
    path.add("chromium-browser", browser);
    const Outcome outcome = print(folder.path / "out", {"--only", "page"});
    CAPTURE(outcome.err);
    CHECK(outcome.code == 0);
    CHECK(fs::exists(folder.path / "out" / "sheet.pdf"));
}

TEST_CASE("without a browser the drawings are printed on A4, and this is said", "[cli]") {
    const ScratchFolder folder{"keyhour_pdf_drawings"};
    const OnlyPath path{folder.path / "bin"};
    path.add("rsvg-convert", drawing_printer);
    const Outcome outcome = print(folder.path / "out");
    CAPTURE(outcome.err);
    CHECK(outcome.code == 0);
    CHECK(holds(outcome.err, "no browser (chromium) is at hand"));
    CHECK(holds(outcome.err, "holds the drawings alone"));
    const std::string asked = bytes(folder.path / "out" / "sheet.pdf");
    CHECK(holds(asked, "--page-width=210mm --page-height=297mm --left=15mm --top=15mm"));
    for (const char* name : {"plan.svg", "strip.svg", "year-type-case.svg"})
        CHECK(holds(asked, name));
    // Wider than A4's 180 mm between the margins: pages of the drawings' own size.
    CHECK(print(folder.path / "out", {"--width", "300"}).code == 0);
    CHECK_FALSE(holds(bytes(folder.path / "out" / "sheet.pdf"), "--page-width"));
}

TEST_CASE("without a browser and without drawings printing says what is left away", "[cli]") {
    const ScratchFolder folder{"keyhour_pdf_page"};
    const OnlyPath path{folder.path / "bin"};
    path.add("rsvg-convert", drawing_printer);
    const Outcome outcome = print(folder.path / "out", {"--only", "page"});
    CHECK(outcome.code == 1);
    CHECK(holds(outcome.err, "rsvg-convert prints drawings alone, which --only leaves away"));
    CHECK(fs::exists(folder.path / "out" / "sheet.html"));
}
