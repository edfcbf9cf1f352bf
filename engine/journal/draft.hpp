#pragma once

#include <filesystem>
#include <string>

namespace sipladder::journal {

/// An empty file beside the one that is to be, readable by its owner only; gone with the value, and its
/// rollback journal too, unless it was kept.
class Draft {
  public:
    /// @throws Failed  when it cannot be made
    explicit Draft(const std::filesystem::path& for_file);
    ~Draft();
    Draft(const Draft&) = delete;
    Draft& operator=(const Draft&) = delete;

    const std::string& name() const { return name_; }
    /// Gives it its name, which outlives a power cut. Never replaces a file.
    /// @return false   where a file of that name is there
    /// @throws Failed  when it cannot be done
    bool keep_as(const std::filesystem::path& file);

  private:
    std::string name_;
};

/// That a file cannot be made, and why, from errno. @throws Failed
[[noreturn]] void fail_to_make(const std::filesystem::path& file);

}  // namespace sipladder::journal
