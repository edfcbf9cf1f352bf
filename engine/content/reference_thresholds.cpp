#include "engine/content/loading.hpp"
#include "engine/text.hpp"

namespace sipladder::content {

namespace {

ReferenceThreshold threshold_at(Loading& loading, const Field& field) {
    // The scale is the substance's, which another file holds: the key says which was meant, and is compared
    // later.
    const Scale scale = field.at("lower_pct_vol").is_there() ? Scale::pct_vol : Scale::g_per_L;
    const std::string suffix = unit_suffix(scale);
    field.only({"substance", "base", "kind", "lower" + suffix, "upper" + suffix, "people", "method", "source",
                "provenance"});
    ReferenceThreshold threshold{.substance = substance_of(loading, field.at("substance")),
                                 .base = field.at("base").text(),
                                 .kind = field.at("kind").one_of({"detection", "recognition", "taste"}),
                                 .lower = field.at("lower" + suffix).number(1e-7, most_on(scale)),
                                 .upper = field.at("upper" + suffix).number(1e-7, most_on(scale)),
                                 .people = static_cast<int>(field.at("people").integer(0, 1000000)),
                                 .method = field.at("method").text(),
                                 .source = source_of(loading, field.at("source")),
                                 .provenance = field.at("provenance").text()};
    if (threshold.upper < threshold.lower)
        field.at("upper" + suffix)
            .note("is " + exact(threshold.upper) + ", less than the lower value (" + exact(threshold.lower) +
                      ")",
                  "the upper value is wanted here");
    loading.references.push_back([field, scale, suffix, id = threshold.substance](const Content& content) {
        for (const solution::Substance& one : content.substances)
            if (one.id == id && one.scale != scale)
                field.at("lower" + suffix)
                    .note("is in " + unit_text(scale), one.name + " is counted in " + unit_text(one.scale));
    });
    return threshold;
}

}  // namespace

void load_reference_thresholds(Loading& loading, const std::filesystem::path& file) {
    for (const Field& field : loading.entries(file, "reference-thresholds", "reference_thresholds"))
        loading.content.reference_thresholds.push_back(threshold_at(loading, field));
}

}  // namespace sipladder::content
