#pragma once
// Many threads work, and the results come out in the order of the items, a few at a time.

#include <condition_variable>
#include <cstddef>
#include <exception>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>
#include <vector>

#include "thrown.hpp"

namespace keyhour::cli {

/// Takes items one by one, works on them in `threads` threads and gives the results in the order in
/// which the items were taken. take() and give() are called by one thread at a time. No more than
/// four items a thread are under way, so memory does not grow with the number of items.
/// @param take  () -> std::optional<Item>; none at the end
/// @param work  (Item&) -> Result, from many threads at once
/// @param give  (Result&) -> bool; false stops the work
/// An exception of any of them ends the work and is thrown again.
template <class Take, class Work, class Give>
class OrderedWork {
public:
    OrderedWork(std::size_t threads, Take& take, Work& work, Give& give)
        : take_{take}, work_{work}, give_{give}, results_(4 * threads) {
        if (threads == 1) {
            run();
        } else {
            std::vector<std::jthread> workers;
            for (std::size_t i = 0; i < threads; ++i)
                workers.emplace_back([this] { run(); });
        }
        if (failure_) std::rethrow_exception(failure_);
    }

private:
    using Item = typename decltype(std::declval<Take&>()())::value_type;
    using Result = decltype(std::declval<Work&>()(std::declval<Item&>()));
    using Lock = std::unique_lock<std::mutex>;

    void run() {
        Lock lock{mutex_};
        if (const auto thrown = thrown_by([this, &lock] { work_through(lock); })) {
            if (!lock.owns_lock()) lock.lock();
            if (!failure_) failure_ = thrown;
            is_ended_ = true;
        }
        changed_.notify_all();
    }

    void work_through(Lock& lock) {
        while (auto item = next(lock)) {
            const std::size_t number = taken_++;
            is_taking_ = false;
            changed_.notify_all();
            lock.unlock();
            Result result = work_(*item);
            lock.lock();
            results_[number % results_.size()] = std::move(result);
            give_ready(lock);
        }
    }

    /// Waits for its turn and for room, then takes; the lock is held again afterwards.
    std::optional<Item> next(Lock& lock) {
        changed_.wait(lock, [this] {
            return is_ended_ || (!is_taking_ && taken_ - given_ < results_.size());
        });
        if (is_ended_) return std::nullopt;
        is_taking_ = true;
        lock.unlock();
        std::optional<Item> item = take_();
        lock.lock();
        if (!item) {
            is_taking_ = false;
            is_ended_ = true;
        }
        return item;
    }

    void give_ready(Lock& lock) {
        if (is_giving_ || is_stopped_) return;  // that thread will see this result, too
        is_giving_ = true;
        while (auto& slot = results_[given_ % results_.size()]) {
            Result result = *std::exchange(slot, std::nullopt);
            lock.unlock();
            const bool go_on = give_(result);
            lock.lock();
            ++given_;
            changed_.notify_all();
            if (!go_on) {
                is_ended_ = is_stopped_ = true;
                break;
            }
        }
        is_giving_ = false;
    }

    Take& take_;
    Work& work_;
    Give& give_;
    std::mutex mutex_;
    std::condition_variable changed_;
    std::vector<std::optional<Result>> results_;  // of item n in place n modulo their number
    std::size_t taken_ = 0, given_ = 0;
    bool is_taking_ = false, is_giving_ = false, is_ended_ = false, is_stopped_ = false;
    std::exception_ptr failure_;
};

}  // namespace keyhour::cli
