#include "tests/gui/people.hpp"

#include "drills/blinding/sealed_key.hpp"
#include "drills/classroom/class_file.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/planning.hpp"
#include "gui/views/taste.hpp"
#include "tests/support/shipped_content.hpp"

namespace sipladder::tests {

std::shared_ptr<const drills::Demo> shipped_demo() {
    static const auto demo = std::make_shared<const drills::Demo>(
        drills::load_demo(std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content"));
    return demo;
}

std::shared_ptr<const drills::classroom::ClassChoice> shipped_class() {
    static const auto choice =
        std::make_shared<const drills::classroom::ClassChoice>(drills::classroom::read_class_file(
            (std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content/demo/class.json").string(),
            *shipped_content()));
    return choice;
}

AtWindow::AtWindow() = default;
AtWindow::AtWindow(const AtWindow&) = default;
AtWindow::AtWindow(AtWindow&&) noexcept = default;
AtWindow& AtWindow::operator=(const AtWindow&) = default;
AtWindow& AtWindow::operator=(AtWindow&&) noexcept = default;
AtWindow::~AtWindow() = default;

gui::App AtWindow::begin(Seed seed) const {
    return gui::start({.content = shipped_content(),
                       .demo = shipped_demo(),
                       .journal = journal,
                       .sheets = sheets,
                       .seed = seed,
                       .demo_class = shipped_class()},
                      now);
}

void AtWindow::pass(std::int64_t milliseconds) {
    now.utc_ms += milliseconds;
    now.monotonic_ms += milliseconds;
}

void AtWindow::want(const gui::Intent& intent) {
    pass(10);
    // Made once for all cases: under the sanitizers it takes eight seconds.
    static std::shared_ptr<const journal::Journal> demo;
    if (app.demo && !demo && intent.as<gui::LookAtDemo>()) demo = gui::made_demo(app);
    app.untouched_demo = demo;
    gui::apply(app, intent, now);
}

void AtWindow::settle() {
    for (std::size_t ladder = 0; ladder <= app.beside.size(); ++ladder)
        if (const auto job = gui::bench_at(app, ladder).job) want(gui::plan_for(*job));
    if (const auto job = app.classroom.job) want(gui::ClassReady{job->generation, gui::run(*job)});
}

void AtWindow::arrive(const std::string& name, const std::vector<std::string>& reasons) {
    want(gui::TypeName{name});
    want(gui::AddPerson{});
    for (const std::string& reason : reasons) want(gui::TickReason{reason, true});
    want(gui::ReadCautions{});
}

void AtWindow::prepare() {
    settle();
    want(gui::KeepMix{});
}

void AtWindow::prepare(const std::string& substance) {
    gui::Setup setup = app.bench.setup;
    setup.substance = substance;
    setup.ingredient.clear();
    want(gui::ChangeSetup{setup});
    prepare();
}

AtWindow AtWindow::apart(Seed seed) const {
    AtWindow other = *this;
    other.journal = std::make_shared<journal::Journal>(journal::Journal::in_memory());
    for (const journal::Person& person : journal->people()) {
        other.journal->append(person);
        for (const journal::Fact& fact : journal->facts(person.id)) other.journal->append(fact);
    }
    other.app = other.begin(seed);
    other.want(gui::ChooseMix{0});
    return other;
}

void AtWindow::choose(drills::Kind kind, drills::Order order, drills::Blinding blinding) {
    for (std::size_t i = 0; i < gui::offers().size(); ++i)
        if (gui::offers()[i].kind == kind && gui::offers()[i].order == order) want(gui::ChooseOffer{i});
    want(gui::ChooseBlinding{blinding});
    if (kind == drills::Kind::recognition)
        for (std::size_t mix = 0; mix < app.history->mixes.size(); ++mix) want(gui::TickOther{mix, true});
}

void AtWindow::start_drill() {
    want(gui::StartDrill{});
    want(gui::Acquainted{});
    want(gui::Poured{});
}

void AtWindow::answer(std::size_t place) {
    want(gui::PickCup{place});
    want(gui::PickCertainty{drills::Certainty::leaning});
    want(gui::LockAnswer{});
}

void AtWindow::answer_what_is_asked(std::size_t number) {
    const gui::DrillView view = gui::drill_view(app);
    for (std::size_t i = 0; i < view.set.size(); ++i) want(gui::PutNext{(i + number) % view.set.size()});
    if (view.watch == gui::DrillView::Watch::ready) {
        want(gui::PressWatch{});
        pass(1'000 + 700 * static_cast<std::int64_t>(number));
        want(gui::PressWatch{});
    }
    if (!view.tiles.empty()) want(gui::PickCup{number % view.tiles.size()});
    if (!view.mouth.empty()) want(gui::TickMouth{number % view.mouth.size()});
    if (view.line) want(gui::SetMark{5.0 + 9.0 * static_cast<double>(number % 10)});
    if (!view.words.empty()) want(gui::TickWord{number % view.words.size()});
    if (view.asks_certainty) want(gui::PickCertainty{drills::Certainty::leaning});
    want(gui::LockAnswer{});
}

void AtWindow::look_beneath(std::size_t place) {
    want(gui::FoundSign{place});
    want(gui::LockSign{});
}

void AtWindow::rest() {
    want(gui::Poured{});
    pass(600'000);
    want(gui::Tick{});
}

std::size_t AtWindow::seen_beneath() const {
    const drills::State& state = app.running->state;
    if (state.plan.blinding != drills::Blinding::sealed_key) return 0;
    const std::size_t marks = drills::sealed_key::pour_list(state.plan).size();
    for (std::size_t mark = 0; mark < marks; ++mark) {
        try {
            drills::reveal(state, mark, now);
            return mark;
        } catch (const Refused&) {
            continue;
        }
    }
    return 0;
}

void AtWindow::go_to_answer() {
    constexpr int most_steps = 2'000;  // a refusal that goes on for ever fails rather than hangs
    for (int step = 0; app.running && step < most_steps; ++step) {
        switch (gui::phase_of(*app.running)) {
            case gui::Phase::acquaint:
                want(gui::Acquainted{});
                break;
            case gui::Phase::pour:
                want(gui::Poured{});
                break;
            case gui::Phase::reveal:
                look_beneath(seen_beneath());
                break;
            case gui::Phase::rest:
                rest();
                break;
            case gui::Phase::answer:
            case gui::Phase::done:
                return;
        }
    }
}

std::size_t AtWindow::rows() const {
    return journal->rows();
}

const std::vector<Case> every_case{
    {drills::Kind::detection, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::detection, drills::Order::adaptive, drills::Blinding::shuffled_tray},
    {drills::Kind::detection, drills::Order::ascending, drills::Blinding::served},
    {drills::Kind::quick_look, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::quick_look, drills::Order::adaptive, drills::Blinding::sealed_key},
    {drills::Kind::recognition, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::recognition, drills::Order::adaptive, drills::Blinding::sealed_key},
    {drills::Kind::difference, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::difference, drills::Order::adaptive, drills::Blinding::shuffled_tray},
    {drills::Kind::nose, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::nose, drills::Order::adaptive, drills::Blinding::shuffled_tray},
    {drills::Kind::tray_check, drills::Order::adaptive, drills::Blinding::shuffled_tray}};

std::string name_of(const Case& one) {
    return drills::name_of(one.kind) + ", blinding " + std::to_string(static_cast<int>(one.blinding)) +
           (one.order == drills::Order::ascending ? ", ascending" : "");
}

/// Somebody who has mixed sucrose and tartaric acid.
const AtWindow& with_two_mixes() {
    static const AtWindow at = [] {
        AtWindow made;
        made.arrive();
        made.prepare("tartaric_acid");
        made.prepare("sucrose");
        return made;
    }();
    return at;
}

}  // namespace sipladder::tests
