#include "engine/safety/caution.hpp"

#include "engine/problem.hpp"

#include <algorithm>

namespace sipladder::safety {

std::vector<Caution> cautions_for(const Cautions& cautions, std::string_view substance_id) {
    std::vector<Caution> found;
    for (const Caution& one : cautions.texts)
        if (one.substances.empty() ||
            std::find(one.substances.begin(), one.substances.end(), substance_id) != one.substances.end())
            found.push_back(one);
    return found;
}

void refuse_ethanol(std::span<const std::string> reasons) {
    std::string ticked;
    for (const std::string& reason : reasons) ticked += (ticked.empty() ? "" : "; ") + reason;
    throw Refused("alcohol",
                  "cups of this drill hold alcohol, and you ticked a reason to take none (" + ticked +
                      "); alcohol enters the blood through the mouth too, so spitting does not change that",
                  "a drill without alcohol: every other one still works. What local rules, a label, a doctor "
                  "or a pharmacist say comes before anything here");
}

}  // namespace sipladder::safety
