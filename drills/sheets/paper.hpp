#pragma once

namespace sipladder::drills::sheets {

enum class Paper { a4, us_letter };

/// Sizes in points (1/72 inch): A4 is 210 x 297 mm (ISO 216), US Letter 8.5 x 11 inch.
struct PageSize {
    double width_pt{};
    double height_pt{};
};

constexpr PageSize page_size(Paper paper) {
    return paper == Paper::a4 ? PageSize{595.276, 841.89} : PageSize{612.0, 792.0};
}

}  // namespace sipladder::drills::sheets
