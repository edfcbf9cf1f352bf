#pragma once

#include <string>
#include <vector>

namespace sipladder::safety {

/// A sentence that is shown once per person and printed on every bench sheet.
struct Caution {
    std::string id;
    std::string text;
    std::vector<std::string> substances;  ///< ids it is about; empty: all
    std::string source;
};

/// A limit on what one person may take in. Swallowing counts in full, spitting is the default but not
/// assumed.
struct Cap {
    std::string what;  ///< ethanol_g, sugar_g, acid_g, acid_cups, caffeine_mg, salt_g, tannin_g
    double per_sitting{};
    double per_day{};
    std::string source;  ///< key of sources.json, or "judgement"
};

struct Cautions {
    std::vector<Caution> texts;
    std::vector<Cap> caps;
    std::vector<std::string> no_ethanol_reasons;  ///< who does not take ethanol cups, spat or not
};

}  // namespace sipladder::safety
