#pragma once

#include "engine/threshold/psychometric.hpp"

#include <string>

namespace sipladder::cli {

/// The task that --task names: 3-afc, 2-afc, m-afc:M or yes-no.
/// @throws Refused  for any other
threshold::Task task_from(const std::string& name);
/// The shape that --shape names: logistic, gaussian or weibull.
/// @throws Refused  for any other
threshold::Shape shape_from(const std::string& name);

}  // namespace sipladder::cli
