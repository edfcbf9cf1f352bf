#pragma once

#include <cstddef>
#include <vector>

/// QUEST as published: one axis, the threshold; slope and lapse are assumed. The numbers follow the published
/// program step by step, its table look-ups included, so that the comparison is with the method and not with
/// a likeness.
namespace sipladder::benchmark {

/// @source watson_pelli_1983
struct QuestParameters {
    double guess{};             ///< where the threshold is looked for, log10
    double guess_sd{};          ///< spread of the normal prior
    double p_threshold = 0.82;  ///< share right at the threshold
    double beta = 3.5;          ///< slope of the Weibull curve
    double delta = 0.01;        ///< share of blind answers
    double gamma = 0.5;         ///< chance
    double grain = 0.01;
    double range = 5.0;  ///< of the intensities considered, around the guess
};

class Quest {
  public:
    explicit Quest(const QuestParameters& parameters);
    void update(double intensity_log10, bool correct);

    double mean() const;
    double sd() const;
    double mode() const;
    double quantile(double order) const;
    double recommended() const { return quantile(quantile_order_); }  ///< where to ask next
    double share_right(double above_threshold_log10) const;           ///< the curve that is assumed

    double x_threshold() const { return x_threshold_; }
    double quantile_order() const { return quantile_order_; }
    std::size_t grid_points() const { return pdf_.size(); }
    double pdf(std::size_t point) const { return pdf_.at(point); }

  private:
    void find_threshold_offset();
    void find_quantile_order();

    QuestParameters parameters_;
    long half_{};  // grid points on either side of the guess
    double x_threshold_ = 0.0;
    double quantile_order_{};
    std::vector<double> pdf_;  // over thresholds guess + i grain, i = -half … half
    std::vector<double>
        right_;  // share right at intensities k grain above the threshold, k = -2 half … 2 half
};

}  // namespace sipladder::benchmark
