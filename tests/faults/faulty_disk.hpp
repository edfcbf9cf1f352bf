#pragma once

#include "engine/random.hpp"

#include <cstddef>

/// A disk that fails when it is told to, between SQLite and the real files.
namespace sipladder::tests {

enum class Fault {
    none,
    error,       ///< the operation does nothing and fails
    full,        ///< the same, for want of room
    half,        ///< a write stores its first half and fails; other operations fail
    lost_write,  ///< a write is not stored, and is said to be; other operations pass
    lost_sync,   ///< a sync does nothing, and is said to have worked; other operations pass
    power_cut    ///< this operation and all that follow fail
};

/// Takes the place of SQLite's own file system while it lives; one at a time. Counts every write, sync, cut
/// and delete of a named file, and strikes at one of them. Remembers of every file what was synced, so that a
/// power cut can be played to its end.
class FaultyDisk {
  public:
    FaultyDisk();
    ~FaultyDisk();
    FaultyDisk(const FaultyDisk&) = delete;
    FaultyDisk& operator=(const FaultyDisk&) = delete;

    /// Strikes at the operation of this number from now, from 0. @param for_good  at all that follow, too
    void arm(Fault fault, std::size_t number, bool for_good = false);
    void disarm() { arm(Fault::none, 0); }
    /// Operations since it was armed.
    std::size_t operations() const;
    /// How many of them were struck.
    std::size_t strikes() const;
    /// Forgets what was synced: files are as they are now.
    void forget();

    /// Once all files are closed: of what was written or deleted and never synced, each sector of 512 bytes
    /// is kept or lost by chance, as when the power goes. (SQLite's assumption, powersafe overwrite: bytes
    /// that were not written stay.)
    void lose_power(Random& chance);
};

}  // namespace sipladder::tests
