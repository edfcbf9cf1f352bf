// An SQLite VFS (https://www.sqlite.org/vfs.html) that passes everything on to the one it replaces. Real
// syncs are left out: what they would do is kept in memory.

#include "tests/faults/faulty_disk.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace sipladder::tests {

namespace {

namespace fs = std::filesystem;

struct Change {
    std::size_t at{};
    std::string bytes;
    bool is_cut = false;  ///< the file ends at `at`
};

struct Remembered {
    bool existed = false;
    std::string synced;
    std::vector<Change> since;
    bool is_deleted = false;  ///< but its folder was not synced
};

struct Disk {
    sqlite3_vfs* real = nullptr;
    sqlite3_vfs faulty{};
    Fault fault = Fault::none;
    std::size_t number = 0;
    bool for_good = false;
    std::size_t operations = 0;
    std::size_t strikes = 0;
    std::map<std::string, Remembered> files;
};
Disk disk;  // SQLite's table of functions knows no object

struct File {
    sqlite3_file base;
    std::string* name;   ///< nothing for a temporary file
    sqlite3_file* real;  ///< in the bytes that follow
};
File& file_of(sqlite3_file* file) {
    return *reinterpret_cast<File*>(file);
}
sqlite3_file* real_of(sqlite3_file* file) {
    return file_of(file).real;
}

std::string content_of(const std::string& name) {
    std::ifstream in(name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// What strikes the operation that begins now.
Fault struck() {
    const std::size_t number = disk.operations++;
    const bool goes_on = disk.for_good || disk.fault == Fault::power_cut;
    if (disk.fault == Fault::none || (goes_on ? number < disk.number : number != disk.number))
        return Fault::none;
    ++disk.strikes;
    return disk.fault;
}

int code_of(Fault fault, int error) {
    return fault == Fault::full ? SQLITE_FULL : error;
}
bool fails(Fault fault) {
    return fault == Fault::error || fault == Fault::full || fault == Fault::half || fault == Fault::power_cut;
}

void remember(const std::string& name) {
    if (disk.files.contains(name)) return;
    Remembered& file = disk.files[name];
    file.existed = fs::exists(name);
    if (file.existed) file.synced = content_of(name);
}

void apply(std::string& bytes, const Change& change, std::size_t from, std::size_t length) {
    if (bytes.size() < change.at + from + length) bytes.resize(change.at + from + length, '\0');
    bytes.replace(change.at + from, length, change.bytes, from, length);
}

int close(sqlite3_file* file) {
    const int code = real_of(file)->pMethods->xClose(real_of(file));
    delete file_of(file).name;
    return code;
}

int read(sqlite3_file* file, void* to, int amount, sqlite3_int64 at) {
    return real_of(file)->pMethods->xRead(real_of(file), to, amount, at);
}

int pass_write(sqlite3_file* file, const void* from, int amount, sqlite3_int64 at) {
    if (file_of(file).name != nullptr)
        disk.files[*file_of(file).name].since.push_back(
            {static_cast<std::size_t>(at),
             std::string(static_cast<const char*>(from), static_cast<std::size_t>(amount)), false});
    return real_of(file)->pMethods->xWrite(real_of(file), from, amount, at);
}

int write(sqlite3_file* file, const void* from, int amount, sqlite3_int64 at) {
    const Fault fault = file_of(file).name == nullptr ? Fault::none : struck();
    if (fault == Fault::lost_write) return SQLITE_OK;
    if (fault == Fault::half) pass_write(file, from, amount / 2, at);
    if (fails(fault)) return code_of(fault, SQLITE_IOERR_WRITE);
    return pass_write(file, from, amount, at);
}

int truncate(sqlite3_file* file, sqlite3_int64 size) {
    if (file_of(file).name != nullptr) {
        const Fault fault = struck();
        if (fails(fault)) return code_of(fault, SQLITE_IOERR_TRUNCATE);
        disk.files[*file_of(file).name].since.push_back({static_cast<std::size_t>(size), {}, true});
    }
    return real_of(file)->pMethods->xTruncate(real_of(file), size);
}

int sync(sqlite3_file* file, int) {
    if (file_of(file).name == nullptr) return SQLITE_OK;
    const Fault fault = struck();
    if (fails(fault)) return code_of(fault, SQLITE_IOERR_FSYNC);
    if (fault == Fault::lost_sync) return SQLITE_OK;
    // The real one syncs the folder of a new file as well.
    Remembered& remembered = disk.files[*file_of(file).name];
    remembered = {true, content_of(*file_of(file).name), {}, false};
    return SQLITE_OK;
}

int size(sqlite3_file* file, sqlite3_int64* bytes) {
    return real_of(file)->pMethods->xFileSize(real_of(file), bytes);
}
int lock(sqlite3_file* file, int level) {
    return real_of(file)->pMethods->xLock(real_of(file), level);
}
int unlock(sqlite3_file* file, int level) {
    return real_of(file)->pMethods->xUnlock(real_of(file), level);
}
int check_lock(sqlite3_file* file, int* held) {
    return real_of(file)->pMethods->xCheckReservedLock(real_of(file), held);
}
int control(sqlite3_file* file, int what, void* about) {
    return real_of(file)->pMethods->xFileControl(real_of(file), what, about);
}
int sector_size(sqlite3_file* file) {
    return real_of(file)->pMethods->xSectorSize(real_of(file));
}
int characteristics(sqlite3_file* file) {
    return real_of(file)->pMethods->xDeviceCharacteristics(real_of(file));
}

const sqlite3_io_methods methods{
    1,       close,      read,    write,       truncate,        sync,    size,    lock,
    unlock,  check_lock, control, sector_size, characteristics, nullptr, nullptr, nullptr,
    nullptr, nullptr,    nullptr};

int open(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* out) {
    File& opened = file_of(file);
    opened.base.pMethods = nullptr;
    opened.real = reinterpret_cast<sqlite3_file*>(&opened + 1);
    if (name != nullptr) remember(name);
    const int code = disk.real->xOpen(disk.real, name, opened.real, flags, out);
    if (code != SQLITE_OK) return code;
    opened.name = name == nullptr ? nullptr : new std::string(name);
    opened.base.pMethods = &methods;
    return code;
}

int remove(sqlite3_vfs*, const char* name, int sync_folder) {
    const Fault fault = struck();
    if (fails(fault)) return code_of(fault, SQLITE_IOERR_DELETE);
    remember(name);
    Remembered& remembered = disk.files[name];
    if (sync_folder != 0 && fault != Fault::lost_sync)
        remembered = {};
    else
        remembered.is_deleted = true;
    constexpr int no_sync = 0;
    return disk.real->xDelete(disk.real, name, no_sync);
}

void write_file(const std::string& name, const std::string& bytes) {
    std::ofstream(name, std::ios::binary | std::ios::trunc)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

/// What a file holds after the power came back.
std::string after_cut(const Remembered& file, Random& chance) {
    constexpr std::size_t sector = 512;
    std::string bytes = file.synced;
    for (const Change& change : file.since) {
        if (change.is_cut) {
            if (chance.below(2) == 0) bytes.resize(std::min(bytes.size(), change.at));
            continue;
        }
        for (std::size_t from = 0; from < change.bytes.size(); from += sector)
            if (chance.below(2) == 0)
                apply(bytes, change, from, std::min(sector, change.bytes.size() - from));
    }
    return bytes;
}

}  // namespace

FaultyDisk::FaultyDisk() {
    disk = Disk{};
    disk.real = sqlite3_vfs_find(nullptr);
    disk.faulty = *disk.real;
    disk.faulty.zName = "faulty";
    disk.faulty.szOsFile = disk.real->szOsFile + static_cast<int>(sizeof(File));
    disk.faulty.xOpen = open;
    disk.faulty.xDelete = remove;
    constexpr int as_default = 1;
    sqlite3_vfs_register(&disk.faulty, as_default);
}

FaultyDisk::~FaultyDisk() {
    sqlite3_vfs_unregister(&disk.faulty);
    constexpr int as_default = 1;
    sqlite3_vfs_register(disk.real, as_default);
}

void FaultyDisk::arm(Fault fault, std::size_t number, bool for_good) {
    disk.fault = fault;
    disk.number = number;
    disk.for_good = for_good;
    disk.operations = 0;
    disk.strikes = 0;
}

std::size_t FaultyDisk::operations() const {
    return disk.operations;
}
std::size_t FaultyDisk::strikes() const {
    return disk.strikes;
}
void FaultyDisk::forget() {
    disk.files.clear();
}

void FaultyDisk::lose_power(Random& chance) {
    for (const auto& [name, file] : disk.files) {
        const bool was_made = !file.existed && !file.since.empty();
        const bool is_there = file.is_deleted ? file.existed && chance.below(2) == 0
                                              : file.existed || (was_made && chance.below(2) == 0);
        if (is_there)
            write_file(name, after_cut(file, chance));
        else
            fs::remove(name);
    }
    forget();
}

}  // namespace sipladder::tests
