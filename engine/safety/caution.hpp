#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace sipladder::safety {

/// A sentence that is shown once per person and printed on every bench sheet.
struct Caution {
    std::string id;
    std::string text;
    std::vector<std::string> substances;  ///< ids it is about; empty: all
    std::string source;
    bool for_who_mixes = false;  ///< about powders, stocks and spirit: not for the paper before a taster
};

/// A limit on what one person may take in. Swallowing counts in full, spitting is the default but not
/// assumed.
struct Cap {
    std::string what;  ///< ethanol_g, sugar_g, acid_g, acid_cups, caffeine_mg, salt_g, tannin_g, glycerol_g,
                       ///< thickener_g
    double per_sitting{};
    double per_day{};
    std::string source;  ///< key of sources.json, or "judgement"
    std::string why;     ///< what the limit rests on, in a few words
};

struct Cautions {
    std::vector<Caution> texts;
    std::vector<Cap> caps;
    std::vector<std::string> no_ethanol_reasons;  ///< who does not take ethanol cups, spat or not
};

/// Who ticked a reason takes no cup that holds ethanol, spat or not.
/// @throws Refused always, saying why, and that local rules and a doctor's advice come first
[[noreturn]] void refuse_ethanol(std::span<const std::string> reasons);

/// The cautions that concern a substance: those about it and those about all, in the order of the file.
std::vector<Caution> cautions_for(const Cautions& cautions, std::string_view substance_id);

}  // namespace sipladder::safety
