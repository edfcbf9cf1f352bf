#include "tools/simulate/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace sipladder::simulate {

namespace {

/// Which index comes next, and what went wrong first.
class Queue {
  public:
    Queue(std::size_t count, std::size_t workers) : count_(count), working_(workers) {}

    void drain(const std::function<void(std::size_t)>& work) {
        try {
            for (std::size_t i = next_++; i < count_; i = next_++) {
                work(i);
                ++done_;
            }
        } catch (...) {
            const std::scoped_lock lock(mutex_);
            if (!failure_) failure_ = std::current_exception();
            next_ = count_;
        }
        const std::scoped_lock lock(mutex_);
        if (--working_ == 0) ended_.notify_all();
    }

    void wait(const std::function<void(std::size_t)>& progress) {
        constexpr auto tick = std::chrono::milliseconds(200);
        std::unique_lock lock(mutex_);
        while (!ended_.wait_for(lock, tick, [this] { return working_ == 0; }))
            if (progress) progress(done_);
        if (progress) progress(done_);
    }

    void rethrow() const {
        if (failure_) std::rethrow_exception(failure_);
    }

  private:
    std::size_t count_;
    std::atomic<std::size_t> next_{0};
    std::atomic<std::size_t> done_{0};
    std::size_t working_;
    std::mutex mutex_;
    std::condition_variable ended_;
    std::exception_ptr failure_;
};

}  // namespace

void for_each_index(std::size_t count, std::size_t threads, const std::function<void(std::size_t)>& work,
                    const std::function<void(std::size_t)>& progress) {
    if (count == 0) return;
    if (threads == 0) threads = std::max(1U, std::thread::hardware_concurrency());
    threads = std::min(threads, count);
    Queue queue(count, threads);
    {
        std::vector<std::jthread> workers;
        for (std::size_t i = 0; i < threads; ++i) workers.emplace_back([&] { queue.drain(work); });
        queue.wait(progress);
    }
    queue.rethrow();
}

}  // namespace sipladder::simulate
