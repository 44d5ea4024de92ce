#include "other_program.hpp"

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <thread>

#include "held_stop.hpp"

extern char** environ;

namespace keyhour::cli {
namespace {

namespace fs = std::filesystem;

/// @return 0 if it could not be started
pid_t start(std::vector<std::string> words) {
    std::vector<char*> arguments;
    for (std::string& word : words)
        arguments.push_back(word.data());
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    ::posix_spawn_file_actions_init(&actions);
    ::posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
    ::posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    ::posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    posix_spawnattr_t own_group;
    ::posix_spawnattr_init(&own_group);
    ::posix_spawnattr_setpgroup(&own_group, 0);
    ::posix_spawnattr_setflags(&own_group, POSIX_SPAWN_SETPGROUP);
    pid_t child = 0;
    const int fault =
        ::posix_spawn(&child, arguments[0], &actions, &own_group, arguments.data(), environ);
    ::posix_spawnattr_destroy(&own_group);
    ::posix_spawn_file_actions_destroy(&actions);
    return fault == 0 ? child : 0;
}

void kill_group(pid_t leader) {
    ::kill(-leader, SIGKILL);
    while (::waitpid(leader, nullptr, 0) < 0 && errno == EINTR) {
    }
}

}  // namespace

std::string on_path(const char* program) {
    const char* path = std::getenv("PATH");
    const std::string folders = path ? path : "";
    for (std::size_t at = 0; at <= folders.size();) {
        const std::size_t end = std::min(folders.find(':', at), folders.size());
        const fs::path here = fs::path{folders.substr(at, end - at)} / program;
        struct stat status {};
        if (end > at && ::stat(here.c_str(), &status) == 0 && S_ISREG(status.st_mode) &&
            ::access(here.c_str(), X_OK) == 0)
            return here.string();
        at = end + 1;
    }
    return {};
}

Ending run_to_end(const std::vector<std::string>& words, std::chrono::seconds longest) {
    const pid_t child = start(words);
    if (child == 0) return Ending::failed;
    const auto until = std::chrono::steady_clock::now() + longest;
    int status = 0;
    for (;;) {
        const pid_t done = ::waitpid(child, &status, WNOHANG);
        if (done == child)
            return WIFEXITED(status) && WEXITSTATUS(status) == 0 ? Ending::succeeded
                                                                 : Ending::failed;
        if (done < 0 && errno != EINTR) return Ending::failed;
        const bool late = std::chrono::steady_clock::now() > until;
        if (HeldStop::is_asked() || late) {
            kill_group(child);
            return late ? Ending::too_long : Ending::interrupted;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds{20});
    }
}

}  // namespace keyhour::cli
