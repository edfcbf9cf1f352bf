#include "gui/app/fit_job.hpp"

#include "gui/app/app.hpp"

namespace sipladder::gui {

FitJob fit_job(App& app) {
    return {.generation = ++app.generation,
            .person = *app.person,
            .journal = app.journal,
            .content = app.content,
            .history = app.history,
            .journal_rows = app.journal->rows(),
            .now = app.now};
}

}  // namespace sipladder::gui
