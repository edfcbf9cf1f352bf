#pragma once

#include "drills/classroom/service.hpp"
#include "gui/app/app.hpp"
#include "gui/app/handlers.hpp"

#include <cstddef>
#include <set>
#include <string>
#include <vector>

/// The classes of a journal: read from it, and written to it.
namespace sipladder::gui {

/// Ids of people who are classes or members of one, and so are nobody who tastes here.
std::vector<Uuid> people_of_classes(const journal::Journal& journal);

/// The classes that the journal holds; the one that was open stays open, read anew.
void read_classes(App& app);
/// Opens a class as the journal has it. @throws Refused where its rows cannot be read
void open_class(App& app, const Uuid& id);
/// Seats of the design that is kept whose people are noted as not there; whether they agree is another thing.
std::set<std::size_t> did_not_come(const App& app);
/// Takes people, names and who sits out into the choice, from the roster.
void follow_roster(App& app);
/// A fact of the class, or of a member, with the next id.
void add_class_fact(Next& next, const Uuid& person, const std::string& kind, const std::string& body);
/// What was chosen goes to the journal, if it was changed.
void save_class_choice(Next& next);
/// A design as it is served, with what the worker planned for it.
std::shared_ptr<const KeptDesign> kept_design(const Uuid& fact, const Instant& made, Seed seed,
                                              drills::classroom::ClassChoice chosen,
                                              const drills::classroom::ClassChoice& bottled,
                                              const content::Content& content);

/// An invented class with its ballots filled in, from the demo's class file, into the demo's journal.
void add_invented_class(journal::Journal& journal, const content::Content& content,
                        const drills::classroom::ClassChoice& choice, const Instant& now, Seed seed);

}  // namespace sipladder::gui
