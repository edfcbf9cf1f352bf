#include "tools/fuzz/targets.hpp"

#include "drills/demo.hpp"
#include "drills/exchange.hpp"
#include "drills/history.hpp"
#include "engine/content/content.hpp"
#include "engine/content/csv.hpp"
#include "engine/content/location.hpp"
#include "engine/instant.hpp"
#include "engine/journal/exchange.hpp"
#include "engine/journal/journal.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/uuid.hpp"

#include <stdlib.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace sipladder::fuzz {

namespace {

namespace fs = std::filesystem;

/// A folder of this process, gone with it.
class Folder {
  public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "sipladder-fuzz-XXXXXX").string();
        if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("cannot make " + name);
        path_ = name;
    }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    const fs::path& path() const { return path_; }

  private:
    fs::path path_;
};

std::string bytes_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}
void write_bytes(const fs::path& file, std::string_view bytes) {
    std::ofstream(file, std::ios::binary | std::ios::trunc)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

/// A copy of the shipped content, one file of which is written over at a time.
class ContentFolder {
  public:
    ContentFolder() {
        fs::copy(content::locate(""), folder_.path(), fs::copy_options::recursive);
        for (const auto& entry : fs::directory_iterator(folder_.path()))
            if (entry.path().extension() == ".json") files_.push_back(entry.path());
        std::ranges::sort(files_);
    }
    const std::vector<fs::path>& files() const { return files_; }
    const fs::path& path() const { return folder_.path(); }

  private:
    Folder folder_;
    std::vector<fs::path> files_;
};

ContentFolder& content_folder() {
    static ContentFolder folder;
    return folder;
}

template <class Work>
Outcome outcome_of(Work work) {
    try {
        work();
        return Outcome::taken;
    } catch (const Refused& refused) {
        for (const Problem& problem : refused.problems())
            if (problem.where.empty() || problem.what.empty() || problem.right.empty())
                throw std::logic_error("a refusal without words");
        return Outcome::refused;
    } catch (const Failed&) {
        return Outcome::refused;
    }
}

/// What the program does with a journal once it is open.
void use(journal::Journal& journal) {
    drills::answers_csv(journal);
    for (const journal::Person& person : journal.people()) drills::followed(journal, person.id);
    const std::string text = journal::exchange_json(journal::contents(journal));
    if (journal::exchange_json(journal::read_exchange_json(text, "again")) != text)
        throw std::logic_error("an export does not read back");
}

journal::Journal demo_journal() {
    const content::Content content = content::load(content::locate(""));
    journal::Journal journal = journal::Journal::in_memory();
    drills::demo_sitting(journal, content, drills::load_demo(content::locate("")), Seed{3});
    return journal;
}

}  // namespace

Outcome take_content(std::string_view bytes) {
    if (bytes.empty()) return Outcome::refused;
    ContentFolder& folder = content_folder();
    const fs::path& file = folder.files()[static_cast<unsigned char>(bytes.front()) % folder.files().size()];
    const std::string shipped = bytes_of(file);
    write_bytes(file, bytes.substr(1));
    const Outcome outcome = outcome_of([&] {
        content::load(folder.path());
        drills::load_demo(folder.path());
    });
    write_bytes(file, shipped);
    return outcome;
}

Outcome take_exchange(std::string_view bytes) {
    return outcome_of([&] {
        const journal::Exchange exchange = journal::read_exchange_json(bytes, "x.json");
        journal::Journal journal = journal::Journal::in_memory();
        const auto accept = [&](const journal::Merged& merged) { drills::check_bodies(journal, merged); };
        journal::merge(journal, exchange, journal::OnConflict::keep_ours, accept);
        const std::size_t rows = journal.rows();
        journal::merge(journal, exchange, journal::OnConflict::keep_ours, accept);
        if (journal.rows() != rows) throw std::logic_error("a second import changes something");
        use(journal);
    });
}

Outcome take_table(std::string_view bytes) {
    return outcome_of([&] {
        const content::Table table = content::read_csv(bytes, "x.csv");
        std::vector<Problem> problems;
        for (const content::Table::Row& row : table.rows)
            for (std::size_t column = 0; column < table.heading.size(); ++column) {
                content::number_in(table, row, column, 1e-9, 1e9, problems);
                content::integer_in(table, row, column, 0, 1000, problems);
            }
    });
}

Outcome take_journal(std::string_view bytes) {
    static const Folder folder;
    const fs::path file = folder.path() / "x.sipladder";
    fs::remove(file.string() + "-journal");
    write_bytes(file, bytes);
    return outcome_of([&] {
        const journal::Checked checked = journal::check(file);
        journal::Journal journal = journal::Journal::open_existing(file);
        use(journal);
        if (!checked.problems.empty()) throw Refused(checked.problems);
    });
}

Outcome take_values(std::string_view bytes) {
    const bool is_id = is_uuid(bytes);
    const auto typed = number_from_typed(bytes);
    const auto filed = number_from_file(bytes);
    for (const auto& number : {typed, filed})
        if (number && (fixed(*number, 3).empty() || significant(*number, 2).empty()))
            throw std::logic_error("a number without text");
    const Outcome moment = outcome_of([&] { to_iso8601(instant_from_iso8601(bytes, "moment")); });
    return is_id || typed || filed || moment == Outcome::taken ? Outcome::taken : Outcome::refused;
}

const std::vector<Target>& every_target() {
    static const std::vector<Target> targets{{"content", take_content},
                                             {"exchange", take_exchange},
                                             {"table", take_table},
                                             {"journal", take_journal},
                                             {"values", take_values}};
    return targets;
}

std::vector<std::string> seeds_of(const std::string& target) {
    std::vector<std::string> seeds;
    if (target == "content") {
        const auto& files = content_folder().files();
        for (std::size_t i = 0; i < files.size(); ++i)
            seeds.push_back(static_cast<char>(i) + bytes_of(files[i]));
    } else if (target == "exchange") {
        seeds.push_back(journal::exchange_json(journal::contents(demo_journal())));
    } else if (target == "table") {
        seeds.push_back(
            "concentration_g_per_L,presentations,correct\n0.5,12,3\n\"1\",12,4\r\n# a note\n2,12,9\n");
        seeds.push_back(drills::answers_csv(demo_journal()));
    } else if (target == "journal") {
        const Folder folder;
        {
            journal::Journal journal = journal::Journal::open(folder.path() / "x");
            journal::merge(journal, journal::contents(demo_journal()), journal::OnConflict::refuse);
        }
        seeds.push_back(bytes_of(folder.path() / "x"));
    } else {
        seeds = {"40.5",
                 "1,25",
                 "-0",
                 "1e3",
                 "2026-03-01T19:05:00.000+01:00",
                 "babf27c8-3b94-40f8-be99-cf07cc29d123"};
    }
    return seeds;
}

}  // namespace sipladder::fuzz
