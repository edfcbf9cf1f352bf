#include "engine/chart/chart.hpp"

namespace sipladder::chart {

Chart::Chart() = default;
Chart::Chart(const Chart&) = default;
Chart::Chart(Chart&&) noexcept = default;
Chart& Chart::operator=(const Chart&) = default;
Chart& Chart::operator=(Chart&&) noexcept = default;
Chart::~Chart() = default;

}  // namespace sipladder::chart
