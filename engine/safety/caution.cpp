#include "engine/safety/caution.hpp"

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

}  // namespace sipladder::safety
