#pragma once

#include "engine/content/own.hpp"
#include "engine/journal/journal.hpp"
#include "gui/app/own_form.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

/// A person's own equipment, ladders and substances, as the journal keeps them and as they stand beside what
/// is shipped.
namespace sipladder::gui {

struct App;

/// One of them, struck out or not.
struct OwnThing {
    Uuid fact;
    content::OwnKind kind{};
    Instant at;
    std::string id;
    std::string name;
    std::string problem;  ///< why it is not offered: the content has changed since; empty: nothing
    std::optional<journal::Struck> struck;

    bool operator==(const OwnThing&) const = default;
};

/// Reads the person's own things from the journal and puts those that count beside what is shipped. Equipment
/// that was read from a file stays. The form in Prepare is made whole where something it named is gone.
/// @return whether anything is other than before
bool take_own_things(App& app);
/// What the open form is checked beside: without the thing that it changes.
std::shared_ptr<const content::Content> content_for_form(const App& app);
/// @throws Refused  where an own thing of that name is offered already; what is no own thing passes
void check_put_back(const App& app, const Uuid& fact);
/// What is shipped, and equipment that was read from a file: nobody is chosen.
void drop_own_things(App& app);

}  // namespace sipladder::gui
