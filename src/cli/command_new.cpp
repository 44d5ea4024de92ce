#include <memory>
#include <ostream>

#include "command.hpp"
#include "failure.hpp"
#include "file/atomic_file.hpp"
#include "own_output.hpp"
#include "read/location_file.hpp"
#include "read/starter_file.hpp"

namespace keyhour::cli {
namespace {

struct NewRequest {
    std::string path;
    read::Starter starter;
    bool force = false;
};

Answer<void> put(const NewRequest& request, const std::string& text) {
    using Existing = file::AtomicFile::Existing;
    auto file = file::AtomicFile::create(request.path,
                                         request.force ? Existing::replace : Existing::refuse);
    if (!file) return data_failure(file.error());
    file->stream() << text;
    if (const auto done = file->commit(); !done) return data_failure(done.error());
    return {};
}

int answer_new(const NewRequest& request, std::ostream& out, std::ostream& err) {
    if (request.path.empty())
        return report({wrong_usage, "keyhour new: the file needs a name; - writes to the output"},
                      err);
    // A starter file is there to be edited: one that is there is refused, whoever wrote it.
    if (request.path != "-" && request.force)
        if (const auto failure = may_write(request.path, true, {})) return report(*failure, err);
    const std::string text = read::starter_file(request.starter);
    const auto location = read::read_location_text(text, "new");
    if (!location) {
        // Only what was typed can be wrong; its place in a file not yet written says nothing.
        std::string message;
        for (const read::Problem& problem : location.error())
            message += "keyhour new: " + problem.message() + '\n';
        return report(Failure{wrong_usage, message}, err);
    }
    if (request.path == "-") {
        out << text;
        return answered;
    }
    if (const auto done = put(request, text); !done) return report(done.error(), err);
    out << request.path << ": written; edit it, then run \"keyhour check " << request.path
        << "\"\n";
    return answered;
}

}  // namespace

void offer_new(CommandLine& line, Session& session) {
    auto request = std::make_shared<NewRequest>();
    Options* command = line.add_command("new", "a commented location file to start from");
    command->add_option("path", request->path, "the file to write; - for the output")->required();
    command->add_option("--name", request->starter.name, "of the place");
    command->add_option("--position", request->starter.position,
                        "such as \"52.95N 1.15W\" (default: an invented place)");
    command->add_option("--zone", request->starter.time_zone, "such as Europe/London");
    command->add_flag("--force", request->force, "overwrite an existing file");
    command->footer(
        "example:\n"
        "  keyhour new forge.toml --name \"Old Forge\" --position \"52.95N 1.15W\" \\\n"
        "    --zone Europe/London");
    command->callback([request, &session] {
        session.exit_code = answer_new(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
