#pragma once

#include "engine/threshold/grid_likelihood.hpp"
#include "engine/threshold/habit_posterior.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <vector>

/// Certainty and grades for the fits of several people or several sittings: their likelihood on the grid of
/// theta, width and lapse, the habit of answering summed out.
namespace sipladder::threshold {

/// One answer that says more than right or wrong, and what was in the cup.
struct HabitAnswer {
    std::optional<double> x_log10;  ///< of the level as mixed; nothing: a blank, which grades alone have
    std::size_t outcome{};          ///< a grade of the quick look, or `outcome_of` a 3-AFC answer
    double u_own_log10{};           ///< the rung's own mixing uncertainty
    bool operator==(const HabitAnswer&) const = default;
};

/// Answers of one person, given in one way and one sitting, in the order of tasting. The habit is taken as
/// one throughout, and as news in the next sitting.
struct HabitAnswers {
    enum class By { certainty, grades };
    By by{};
    std::vector<HabitAnswer> answers;
    bool operator==(const HabitAnswers&) const = default;
};

class HabitLikelihood {
  public:
    /// @param prior  the grid's, as of the `GridLikelihood` that stands beside it
    HabitLikelihood(const Prior& prior, const Grid& grid);

    /// Where answers at one rung point.
    struct Rung {
        double x_log10{};
        double u_own_log10{};
        std::vector<std::size_t> outcomes;
    };
    struct Found {
        GridLikelihood::Cells cells;
        std::vector<double> shares;  ///< of each outcome at each distance, the habit at its posterior shares
        std::size_t lanes{};
        std::vector<Rung> rungs;  ///< ascending
    };
    /// Habits are weighed as the guard weighs them: among other people or other days nothing else would keep
    /// what is claimed about people of rare habits from being too much.
    /// @throws Refused  without answers, for a level that is not finite, an outcome or a blank that there
    /// cannot be
    Found of(const HabitAnswers& answers);

  private:
    struct Way {
        HabitPosterior fresh;
        std::vector<double> fresh_cells;  ///< claimed
        std::map<double, DistanceTable> tables;
    };
    Way& way(HabitAnswers::By by);

    Prior prior_;
    Grid grid_;
    std::map<HabitAnswers::By, Way> ways_;
};

/// @pre of one grid
void multiply(GridLikelihood::Cells& cells, const GridLikelihood::Cells& by);

/// How far a mean of theta follows one rung.
struct RungSlope {
    double x_log10{};
    double u_own_log10{};
    double slope{};  ///< d(mean of theta) / dx
};
/// For theta probabilities that hold all these answers: the covariance of theta with the score, at one width
/// and lapse. A rung that both kinds of answers know comes once for each.
std::vector<RungSlope> rung_slopes(const GridLikelihood& grid, std::span<const double> theta_probabilities,
                                   std::span<const Counts> counts,
                                   std::span<const HabitLikelihood::Found> told, double width_log10,
                                   double lapse);
/// SD that rungs' own errors give such a mean.
double rung_error(std::span<const RungSlope> slopes);

}  // namespace sipladder::threshold
