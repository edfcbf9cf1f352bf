#pragma once

#include <cstddef>
#include <functional>

namespace sipladder::simulate {

/// Does `work(0)` … `work(count - 1)`, on several threads at once. Each index is done once, in no certain
/// order, so the result is the same for any number of threads if every index writes to a place of its own.
/// The first exception is thrown again when all threads have ended.
/// @param threads   0: as many as the machine has
/// @param progress  called now and then from this thread with how many are done; may be empty
void for_each_index(std::size_t count, std::size_t threads, const std::function<void(std::size_t)>& work,
                    const std::function<void(std::size_t)>& progress = {});

}  // namespace sipladder::simulate
