#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace CLI {  // NOLINT(readability-identifier-naming): the library's
class App;
class Option;
}  // namespace CLI

/// A program's command line: verbs, options, flags. CLI11 does the work; one file compiles it, since every
/// file that reads its header takes six seconds longer.
namespace sipladder::arguments {

/// One option of a command. It lives as long as its Program.
class Option {
  public:
    explicit Option(CLI::Option& option) : option_(&option) {}
    Option& required();
    /// Any other value is wrong usage.
    Option& one_of(const std::vector<std::string>& values);
    /// Both ends are allowed. Write the bounds as the value's type has them: the help shows them so.
    Option& between(int lower, int upper);
    Option& between(double lower, double upper);

  private:
    CLI::Option* option_;
};

/// A verb, a verb within a verb, or the program itself. It lives as long as its Program, and so must what
/// its options write into.
class Command {
  public:
    explicit Command(CLI::App& app) : app_(&app) {}
    Command add_subcommand(const std::string& name, const std::string& help);
    /// @param name  "--cups", or "file" for one that is told by its place
    Option add_option(const std::string& name, std::string& value, const std::string& help);
    Option add_option(const std::string& name, std::vector<std::string>& values, const std::string& help);
    Option add_option(const std::string& name, double& value, const std::string& help);
    Option add_option(const std::string& name, int& value, const std::string& help);
    Option add_option(const std::string& name, std::uint64_t& value, const std::string& help);
    void add_flag(const std::string& name, bool& value, const std::string& help);
    /// Without one of its subcommands it is wrong usage.
    void require_subcommand();
    /// Options of this command may stand after a subcommand.
    void let_options_follow();
    /// What runs once everything is read. It may throw; Program::run lets that through.
    void on_run(std::function<void()> action);

  private:
    CLI::App* app_;
};

/// The whole line.
class Program {
  public:
    explicit Program(const std::string& help);
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;
    ~Program();

    Command command();
    void set_version(const std::string& version);
    /// Reads the arguments and runs what they ask for; help, version and wrong usage are told on the
    /// standard streams.
    /// @return 0 when it ran or told what was asked, 2 for wrong usage
    /// @throws what the actions throw
    int run(int argc, const char* const* argv);

  private:
    std::unique_ptr<CLI::App> app_;
};

}  // namespace sipladder::arguments
