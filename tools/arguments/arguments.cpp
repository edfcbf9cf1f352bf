#include "tools/arguments/arguments.hpp"

#include <CLI/CLI.hpp>

#include <iostream>
#include <utility>

namespace sipladder::arguments {

namespace {

constexpr int done = 0;
constexpr int wrong_usage = 2;

/// The word that stands where a subcommand is wanted and is none; empty: there is no such word.
std::string unknown_subcommand(const CLI::App& app) {
    const CLI::App* deepest = &app;
    while (!deepest->get_subcommands().empty()) deepest = deepest->get_subcommands().front();
    if (deepest->get_subcommands([](const CLI::App*) { return true; }).empty()) return {};
    const std::vector<std::string> left = app.remaining(true);
    return left.empty() || left.front().starts_with('-') ? std::string() : left.front();
}

}  // namespace

Option& Option::required() {
    option_->required();
    return *this;
}

Option& Option::one_of(const std::vector<std::string>& values) {
    option_->check(CLI::IsMember(values));
    return *this;
}

Option& Option::between(int lower, int upper) {
    option_->check(CLI::Range(lower, upper));
    return *this;
}

Option& Option::between(double lower, double upper) {
    option_->check(CLI::Range(lower, upper));
    return *this;
}

Command Command::add_subcommand(const std::string& name, const std::string& help) {
    return Command(*app_->add_subcommand(name, help));
}

Option Command::add_option(const std::string& name, std::string& value, const std::string& help) {
    return Option(*app_->add_option(name, value, help));
}

Option Command::add_option(const std::string& name, std::vector<std::string>& values,
                           const std::string& help) {
    return Option(*app_->add_option(name, values, help));
}

Option Command::add_option(const std::string& name, double& value, const std::string& help) {
    return Option(*app_->add_option(name, value, help));
}

Option Command::add_option(const std::string& name, int& value, const std::string& help) {
    return Option(*app_->add_option(name, value, help));
}

Option Command::add_option(const std::string& name, std::uint64_t& value, const std::string& help) {
    return Option(*app_->add_option(name, value, help));
}

void Command::add_flag(const std::string& name, bool& value, const std::string& help) {
    app_->add_flag(name, value, help);
}

void Command::require_subcommand() {
    app_->require_subcommand(1);
}

void Command::let_options_follow() {
    app_->fallthrough();
}

void Command::on_run(std::function<void()> action) {
    app_->callback(std::move(action));
}

Program::Program(const std::string& help) : app_(std::make_unique<CLI::App>(help)) {}
Program::~Program() = default;

Command Program::command() {
    return Command(*app_);
}

void Program::set_version(const std::string& version) {
    app_->set_version_flag("--version", version);
}

int Program::run(int argc, const char* const* argv) {
    try {
        app_->parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        if (const std::string unknown = unknown_subcommand(*app_); !unknown.empty()) {
            std::cerr << '"' << unknown << "\" is no subcommand; --help lists those there are\n";
            return wrong_usage;
        }
        return app_->exit(error) == 0 ? done : wrong_usage;
    }
    return done;
}

}  // namespace sipladder::arguments
