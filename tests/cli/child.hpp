#pragma once
// The program as a process of its own, for what only processes do: signals, pipes, full disks.

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <optional>
#include <string>
#include <system_error>
#include <thread>
#include <vector>

struct ChildFiles {
    std::string in = "/dev/null", out = "/dev/null", err = "/dev/null";
    int in_pipe = -1, out_pipe = -1;  // descriptors in place of the files
};

class Child {
public:
    Child(const std::vector<std::string>& arguments, const ChildFiles& files) {
        posix_spawn_file_actions_t actions;
        posix_spawn_file_actions_init(&actions);
        const int create = O_WRONLY | O_CREAT | O_TRUNC;
        if (files.in_pipe >= 0)
            posix_spawn_file_actions_adddup2(&actions, files.in_pipe, 0);
        else
            posix_spawn_file_actions_addopen(&actions, 0, files.in.c_str(), O_RDONLY, 0);
        if (files.out_pipe >= 0)
            posix_spawn_file_actions_adddup2(&actions, files.out_pipe, 1);
        else
            posix_spawn_file_actions_addopen(&actions, 1, files.out.c_str(), create, 0644);
        posix_spawn_file_actions_addopen(&actions, 2, files.err.c_str(), create, 0644);
        std::vector<std::string> words{KEYHOUR_PROGRAM};
        words.insert(words.end(), arguments.begin(), arguments.end());
        std::vector<char*> argv;
        for (std::string& word : words)
            argv.push_back(word.data());
        argv.push_back(nullptr);
        const int fault =
            posix_spawn(&pid_, KEYHOUR_PROGRAM, &actions, nullptr, argv.data(), environ);
        posix_spawn_file_actions_destroy(&actions);
        // A signal to a child that never was would go to every process there is.
        if (fault != 0) throw std::system_error{fault, std::generic_category(), KEYHOUR_PROGRAM};
    }
    ~Child() {
        if (!status_) {
            send(SIGKILL);
            static_cast<void>(wait());
        }
    }
    Child(const Child&) = delete;
    Child& operator=(const Child&) = delete;

    /// To one that has not ended yet.
    void send(int signal) const {
        if (!status_) kill(pid_, signal);
    }

    /// The exit code, or 128 + the signal that ended it.
    [[nodiscard]] int wait() {
        if (!status_) {
            int status = 0;
            while (waitpid(pid_, &status, 0) < 0) {
            }
            status_ = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
        }
        return *status_;
    }

    /// The same, but none if it has not ended within the time.
    [[nodiscard]] std::optional<int> wait_for(std::chrono::milliseconds time) {
        const auto end = std::chrono::steady_clock::now() + time;
        while (!status_ && std::chrono::steady_clock::now() < end) {
            int status = 0;
            if (waitpid(pid_, &status, WNOHANG) == pid_)
                status_ = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
            else
                std::this_thread::sleep_for(std::chrono::milliseconds{2});
        }
        return status_;
    }

private:
    pid_t pid_ = -1;
    std::optional<int> status_;
};
