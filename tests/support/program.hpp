#pragma once

#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>
#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

/// The command-line program as a script sees it: exit codes, one line a problem, JSON keys.
namespace sipladder::tests {

struct Ran {
    int exit_code{};
    std::string out;
    std::string err;
};

inline std::string text_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

/// Runs a command as a shell reads it.
inline Ran run(const std::string& command) {
    const TemporaryFolder folder;
    const std::string out = folder / "out";
    const std::string err = folder / "err";
    const std::string whole =
        std::string(command).append(" >'").append(out).append("' 2>'").append(err).append("'");
    const int status =
        std::system(whole.c_str());  // NOLINT(cert-env33-c,concurrency-mt-unsafe): this is the test
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, text_of(out), text_of(err)};
}

/// Runs the program with these arguments.
inline Ran cli(const std::string& arguments) {
    return run("'" SIPLADDER_CLI "' " + arguments);
}

inline nlohmann::json json_of(const std::string& arguments) {
    const Ran ran = cli(arguments + " --json");
    CAPTURE(arguments);
    CAPTURE(ran.err);
    REQUIRE(ran.exit_code == 0);
    return nlohmann::json::parse(ran.out);
}

/// Writes a CSV file into the folder; gives its name, quoted for the shell.
inline std::string csv(const TemporaryFolder& folder, const std::string& text) {
    const auto file = folder / "answers.csv";
    std::ofstream(file, std::ios::binary) << text;
    return std::string("'").append(file.string()).append("'");
}

}  // namespace sipladder::tests
