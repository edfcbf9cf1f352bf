#include "tools/cli/task_option.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <cmath>

namespace sipladder::cli {

threshold::Task task_from(const std::string& name) {
    if (name == "2-afc") return threshold::two_afc;
    if (name == "3-afc") return threshold::three_afc;
    if (name == "yes-no") return threshold::Task{0.0};
    if (name.starts_with("m-afc:")) {
        const auto cups = number_from_file(name.substr(6));
        if (cups && *cups >= 2.0 && *cups <= 100.0 && *cups == std::floor(*cups))
            return threshold::Task{1.0 / *cups};
    }
    throw Refused("--task", "\"" + name + "\" is none",
                  "3-afc, 2-afc, m-afc:M with M from 2 to 100, or yes-no");
}

threshold::Shape shape_from(const std::string& name) {
    if (name == "logistic") return threshold::Shape::logistic;
    if (name == "gaussian") return threshold::Shape::gaussian;
    if (name == "weibull") return threshold::Shape::weibull;
    throw Refused("--shape", "\"" + name + "\" is none", "logistic, gaussian or weibull");
}

}  // namespace sipladder::cli
