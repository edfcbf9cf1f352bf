// The window: one loop that sleeps until there is something to do.

#include "drills/classroom/class_file.hpp"
#include "engine/content/content.hpp"
#include "engine/journal/copies.hpp"
#include "engine/journal/journal.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "gui/app/apply.hpp"
#include "gui/app/daily_copy.hpp"
#include "gui/app/worker.hpp"
#include "gui/platform/clock.hpp"
#include "gui/platform/font_files.hpp"
#include "gui/platform/paths.hpp"
#include "gui/platform/settings.hpp"
#include "gui/platform/window.hpp"
#include "gui/screens/screens.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <future>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace {

using namespace sipladder;
using namespace sipladder::gui;

constexpr const char* usage =
    "usage: sipladder [--journal FILE] [--content DIR] [--demo] [--scale X]\n"
    "  --journal FILE  the record to open or make (default: SIPLADDER_JOURNAL, else the data folder of this "
    "user)\n"
    "  --content DIR   the folder of substances, ladders and cautions\n"
    "  --demo          look around with an invented person; nothing is written\n"
    "  --scale X       size of type and everything with it, 0.75 to 3\n";

struct Options {
    std::optional<std::string> journal;
    std::optional<std::string> content;
    std::optional<double> scale;
    bool demo = false;
    bool help = false;
    bool version = false;
};

/// @throws Refused for an option that is not known or lacks its value
Options read_options(const std::vector<std::string>& words) {
    Options options;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const auto value = [&]() -> std::string {
            if (i + 1 >= words.size()) throw Refused(words[i], "has no value", "see sipladder --help");
            return words[++i];
        };
        if (words[i] == "--journal") {
            options.journal = value();
        } else if (words[i] == "--content") {
            options.content = value();
        } else if (words[i] == "--scale") {
            options.scale = number_from_typed(value());
            if (!options.scale || *options.scale < 0.75 || *options.scale > 3.0)
                throw Refused("--scale", "is no such size", "a number from 0.75 to 3");
        } else if (words[i] == "--demo") {
            options.demo = true;
        } else if (words[i] == "--help" || words[i] == "-h") {
            options.help = true;
        } else if (words[i] == "--version") {
            options.version = true;
        } else {
            throw Refused(words[i], "is not an option", "see sipladder --help");
        }
    }
    return options;
}

/// What the frames are drawn with; built anew when look, size or alphabet change.
class Looks {
  public:
    explicit Looks(FontFiles files) : files_(std::move(files)) {}

    const Theme& theme() const { return theme_; }

    /// For what stands there before anybody's record is read.
    void begin(bool dark, double scale, const Window& window) {
        theme_.look = dark ? Look::dark : Look::light;
        theme_.scale = static_cast<float>(scale);
        theme_.colour = palette_of(theme_.look);
        load(Alphabets::latin, window);
        apply_style(theme_);
    }

    void follow(const FrameView& view, const Window& window) {
        bool wants_fonts = wanted_.add(view.person) || wanted_.add(view.people.typed_name);
        for (const auto& person : view.people.people) wants_fonts = wanted_.add(person.name) || wants_fonts;
        // The first frame does without most alphabets, which take a tenth of a second; the second has them.
        const bool is_first = !std::exchange(has_followed_, true);
        if (is_first) wants_fonts = theme_.fonts.body == nullptr || !wanted_.all().empty();
        const Alphabets alphabets = is_first ? Alphabets::latin : Alphabets::usual;
        const Look look = view.dark ? Look::dark : Look::light;
        const auto scale = static_cast<float>(view.scale);
        wants_fonts = wants_fonts || alphabets != loaded_ || scale != theme_.scale;
        if (!wants_fonts && look == theme_.look) return;
        theme_.look = look;
        theme_.scale = scale;
        theme_.colour = palette_of(look);
        if (wants_fonts) load(alphabets, window);
        apply_style(theme_);
    }

  private:
    void load(Alphabets alphabets, const Window& window) {
        theme_.fonts = build_fonts(files_, theme_.scale, wanted_, alphabets);
        loaded_ = alphabets;
        window.upload_fonts();
    }

    FontFiles files_;
    WantedCharacters wanted_;
    Alphabets loaded_{};
    bool has_followed_ = false;
    Theme theme_;
};

double seconds_to_sleep(const App& app, int frames_left) {
    if (frames_left > 0) return 0.0;
    constexpr double long_sleep_s = 3600.0;
    const std::optional<std::int64_t> wake = next_wake(app);
    if (!wake) return long_sleep_s;
    return std::clamp(static_cast<double>(*wake - now().monotonic_ms) / 1000.0, 0.001, long_sleep_s);
}

Usual usual_of(const Settings& settings) {
    return {.pours = settings.helper_pours ? Pours::helper : Pours::alone,
            .cup_mL = settings.cup_mL,
            .kitchen = settings.equipment,
            .volume = settings.volume};
}

/// @param scale  the one to keep: a size that was asked for at the start is not what the person chose for
/// good
Settings settings_of(const App& app, double scale) {
    return {.dark = app.dark,
            .scale = scale,
            .us_letter = app.paper == drills::sheets::Paper::us_letter,
            .volume = app.usual.volume,
            .helper_pours = app.usual.pours == Pours::helper,
            .cup_mL = app.usual.cup_mL,
            .equipment = app.usual.kitchen};
}

void run(Window& window, Looks& looks, App app, const std::optional<Settings>& found,
         const Options& options) {
    const std::filesystem::path settings_at = settings_file();
    Settings settings = found.value_or(settings_of(app, static_cast<double>(window.display_scale())));
    app.dark = settings.dark;
    app.scale = options.scale.value_or(settings.scale);
    using drills::sheets::Paper;
    app.paper = settings.us_letter ? Paper::us_letter : Paper::a4;
    if (options.demo) apply(app, LookAtDemo{}, now());

    Worker worker([] { Window::wake(); });
    std::optional<DailyCopying> copying;  // begun once the first frame is there
    const std::filesystem::path journal = (app.is_demo() ? app.own_journal : app.journal)->file();
    Edit edit;
    // Dear ImGui settles focus and layout over a few frames after each change.
    constexpr int frames_to_settle = 3;
    int frames_left = frames_to_settle;
    FrameView view = frame_view(app);
    const auto carry_out = [&](const Intent& intent) {
        apply(app, intent, now());
        view = frame_view(app);
        frames_left = frames_to_settle;
    };
    while (!window.wants_to_close()) {
        worker.look_at(app);
        window.wait(seconds_to_sleep(app, frames_left));
        if (window.was_touched()) frames_left = frames_to_settle;
        if (const std::optional<Intent> ready = worker.take()) carry_out(*ready);
        if (copying)
            if (const auto why = copying->take_problem()) carry_out(MissCopy{*why});
        if (const auto wake = next_wake(app); wake && now().monotonic_ms >= *wake) carry_out(Tick{});
        window.set_title(view.title);
        looks.follow(view, window);
        window.begin_frame();
        const std::optional<Intent> intent = draw_frame(view, looks.theme(), edit);
        window.end_frame(looks.theme());
        --frames_left;
        if (!copying) copying.emplace(journal, now(), [] { Window::wake(); });
        if (intent) carry_out(*intent);
        const Settings now_set = settings_of(app, options.scale ? settings.scale : app.scale);
        if (now_set != settings) save_settings(now_set, settings_at);
        settings = now_set;
    }
    apply(app, SaveDraft{}, now());
}

/// Where the file cannot be opened, the newest good copy is named beside the reason. The pages of a large
/// file are looked over beside the window, where the day's copy is made, so that the window does not wait for
/// them.
std::shared_ptr<journal::Journal> open_journal(const std::filesystem::path& file) {
    try {
        return std::make_shared<journal::Journal>(
            journal::Journal::open(file, journal::LookedOver::in_short));
    } catch (const Refused& refused) {
        std::vector<Problem> problems = refused.problems();
        if (const auto copy = journal::newest_good_copy(file))
            problems.push_back({copy->string(), "is the newest daily copy without a problem",
                                "sipladder-cli --journal " + file.string() +
                                    " journal restore puts it in "
                                    "place, and sets the present file aside"});
        throw Refused(problems);
    }
}

std::shared_ptr<const drills::classroom::ClassChoice> invented_class(const std::filesystem::path& folder,
                                                                     const content::Content& content) {
    const std::filesystem::path file = folder / "demo" / "class.json";
    if (!std::filesystem::exists(file)) return nullptr;
    return std::make_shared<const drills::classroom::ClassChoice>(
        drills::classroom::read_class_file(file.string(), content));
}

App read_all(const Options& options, const Settings& settings) {
    const std::filesystem::path folder = content_folder(options.content);
    const std::filesystem::path file = journal_file(options.journal);
    const auto content = std::make_shared<const content::Content>(content::load(folder));
    return start({.content = content,
                  .demo = std::make_shared<const drills::Demo>(drills::load_demo(folder)),
                  .journal = open_journal(file),
                  .sheets = sheets_folder(file),
                  .seed = entropy_seed(),
                  .demo_class = invented_class(folder, *content),
                  .usual = usual_of(settings)},
                 now());
}

/// Says that the journal is being read, once, and lets the window be moved meanwhile.
void draw_until(const std::future<App>& beginning, Window& window, const Looks& looks) {
    window.begin_frame();
    draw_opening(looks.theme());
    window.end_frame(looks.theme());
    constexpr std::chrono::milliseconds a_while{5};
    while (beginning.wait_for(a_while) != std::future_status::ready) window.wait(0.0);
}

int start_window(const Options& options) {
    const std::optional<Settings> settings = load_settings(settings_file());
    // A long journal and the graphics each take a third of a second, so they are begun beside each other.
    std::future<App> beginning =
        std::async(std::launch::async, [&] { return read_all(options, settings.value_or(Settings{})); });
    std::optional<Window> window;
    std::string problem;
    try {
        window.emplace("Sipladder");
    } catch (const Failed& failed) {
        problem = failed.what();
    }
    Looks looks(find_font_files());
    if (window && beginning.wait_for(std::chrono::seconds{0}) != std::future_status::ready) {
        const double scale = settings ? settings->scale : static_cast<double>(window->display_scale());
        looks.begin(settings && settings->dark, options.scale.value_or(scale), *window);
        draw_until(beginning, *window, looks);
    }
    App app = beginning.get();  // what is wrong with the journal is said first
    try {
        if (!window) throw Failed(problem);
        run(*window, looks, std::move(app), settings, options);
    } catch (const Failed& failed) {
        std::fprintf(stderr, "sipladder: %s\nsipladder-cli demo does the same job in the terminal.\n",
                     failed.what());
        return 1;
    }
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    try {
        const Options options = read_options({argv + 1, argv + argc});
        if (options.help) return std::fputs(usage, stdout) < 0 ? 1 : 0;
        if (options.version) return std::puts("sipladder " SIPLADDER_VERSION) < 0 ? 1 : 0;
        return start_window(options);
    } catch (const Refused& refused) {
        for (const Problem& problem : refused.problems())
            std::fprintf(stderr, "%s\n", to_text(problem).c_str());
    } catch (const Failed& failed) {
        std::fprintf(stderr, "sipladder: %s\n", failed.what());
    }
    return 1;
}
