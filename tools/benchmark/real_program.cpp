// The first frame is seen from outside by what the program does next: it begins the day's copy, for which it
// opens the journal a second time.

#include "tools/benchmark/real_program.hpp"

#include "engine/journal/copies.hpp"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

namespace sipladder::benchmark {

namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point then) {
    return std::chrono::duration<double>(Clock::now() - then).count();
}

/// Ended with the value.
class Program {
  public:
    Program(const fs::path& program, const fs::path& journal, const fs::path& content) {
        process_ = ::fork();
        if (process_ < 0) throw std::runtime_error("cannot start " + program.string());
        if (process_ > 0) return;
        // The person's own settings are left alone, and a picture is drawn by the processor as everywhere
        // else.
        const std::string settings = journal.parent_path().string();
        ::setenv("XDG_CONFIG_HOME", settings.c_str(), 1);
        ::setenv("LIBGL_ALWAYS_SOFTWARE", "1", 1);
        ::execl(program.c_str(), program.c_str(), "--journal", journal.c_str(), "--content", content.c_str(),
                static_cast<char*>(nullptr));
        ::_exit(127);
    }
    ~Program() {
        ::kill(process_, SIGKILL);
        ::waitpid(process_, nullptr, 0);
    }
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;

    /// @return seconds that it took
    double wait_for(const std::function<bool()>& is_so) const {
        constexpr double longest_s = 60.0;
        const Clock::time_point begun = Clock::now();
        while (!is_so()) {
            if (::waitpid(process_, nullptr, WNOHANG) != 0 || seconds_since(begun) > longest_s)
                throw std::runtime_error("the program has shown nothing, or ended");
            std::this_thread::sleep_for(std::chrono::microseconds(200));
        }
        return seconds_since(begun);
    }
    /// How many of its open files are this one.
    std::ptrdiff_t times_open(const fs::path& file) const {
        std::error_code gone;  // a file that was closed meanwhile
        std::ptrdiff_t times = 0;
        for (const auto& open : fs::directory_iterator("/proc/" + std::to_string(process_) + "/fd", gone))
            if (fs::read_symlink(open.path(), gone) == file) ++times;
        return times;
    }
    /// Processor time so far, of all its threads.
    double processor_s() const {
        std::ifstream stat("/proc/" + std::to_string(process_) + "/stat");
        std::string text;
        std::getline(stat, text);
        text.erase(0, text.rfind(')') + 1);  // the name may hold anything
        constexpr int fields_before_utime = 11;
        std::size_t at = 0;
        for (int field = 0; field <= fields_before_utime; ++field) at = text.find(' ', at + 1);
        std::size_t digits = 0;
        const double user = std::stod(text.substr(at), &digits);
        const double system = std::stod(text.substr(at + digits));
        return (user + system) / static_cast<double>(::sysconf(_SC_CLK_TCK));
    }

  private:
    pid_t process_ = -1;
};

/// Until the program does what it does after its first frame.
double first_frame_ms(const Program& running, const fs::path& journal) {
    constexpr double ms_in_second = 1000.0;
    return ms_in_second * running.wait_for([&] { return running.times_open(journal) > 1; });
}

}  // namespace

bool has_display() {
    return std::getenv("DISPLAY") != nullptr;
}

ProgramRun run_program(const fs::path& program, const fs::path& journal, const fs::path& content,
                       double idle_s) {
    ProgramRun run;
    constexpr std::size_t starts = 5;
    std::vector<double> starts_ms;
    while (starts_ms.size() < starts) {
        const Program once(program, journal, content);
        starts_ms.push_back(first_frame_ms(once, journal));
        once.wait_for([&] { return !journal::daily_copies(journal).empty(); });
    }
    run.coldest_start_ms = starts_ms.front();
    std::ranges::sort(starts_ms);
    run.first_frame_ms = starts_ms[starts / 2];
    const Program running(program, journal, content);
    first_frame_ms(running, journal);
    constexpr double settles_s = 2.0;
    std::this_thread::sleep_for(std::chrono::duration<double>(settles_s));
    const double before_s = running.processor_s();
    const Clock::time_point begun = Clock::now();
    std::this_thread::sleep_for(std::chrono::duration<double>(idle_s));
    run.idle_share = (running.processor_s() - before_s) / seconds_since(begun);
    return run;
}

}  // namespace sipladder::benchmark
