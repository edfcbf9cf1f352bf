// A hard link never replaces a file, a rename does; file systems without links get the rename.

#include "engine/journal/draft.hpp"

#include "engine/journal/opening.hpp"
#include "engine/problem.hpp"

#include <stdlib.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace sipladder::journal {

Draft::Draft(const std::filesystem::path& for_file) : name_(for_file.string() + ".part-XXXXXX") {
    const int descriptor = ::mkstemp(name_.data());  // readable by its owner only
    if (descriptor < 0) fail_to_make(for_file);
    ::close(descriptor);
}

Draft::~Draft() {
    ::unlink(name_.c_str());
    ::unlink((name_ + "-journal").c_str());  // of a transaction that the disk did not let end
}

bool Draft::keep_as(const std::filesystem::path& file) {
    if (::link(name_.c_str(), file.c_str()) != 0) {
        if (errno == EEXIST || is_there(file)) return false;
        if (::rename(name_.c_str(), file.c_str()) != 0) fail_to_make(file);
    }
    sync_folder_of(file);
    return true;
}

void fail_to_make(const std::filesystem::path& file) {
    throw Failed(file.string() + ": cannot be made (" + std::strerror(errno) +
                 "); check that its folder is there and may be written to");
}

}  // namespace sipladder::journal
