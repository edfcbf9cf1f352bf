#include "drills/record_own.hpp"

#include "engine/problem.hpp"

#include <array>
#include <utility>

namespace sipladder::drills::record {

namespace {

constexpr std::array<std::pair<content::OwnKind, const char*>, 3> kinds{
    {{content::OwnKind::substance, "own_substance"},
     {content::OwnKind::equipment, "own_equipment"},
     {content::OwnKind::ladder, "own_ladder"}}};

}  // namespace

std::string kind_of_own(content::OwnKind kind) {
    for (const auto& [one, name] : kinds)
        if (one == kind) return name;
    SIPLADDER_EXPECT(false);
    return {};
}

std::optional<content::OwnKind> own_kind_of(const journal::Fact& fact) {
    for (const auto& [kind, name] : kinds)
        if (fact.kind == name) return kind;
    return std::nullopt;
}

std::vector<std::string> own_kinds() {
    std::vector<std::string> names;
    names.reserve(kinds.size());
    for (const auto& [kind, name] : kinds) names.emplace_back(name);
    return names;
}

content::OwnTitle read_own(const journal::Fact& fact) {
    const std::optional<content::OwnKind> kind = own_kind_of(fact);
    content::OwnTitle title = kind ? content::title_of_own(*kind, fact.body) : content::OwnTitle{};
    if (!content::is_own(title.id))
        throw Refused("journal row " + fact.id.text,
                      "its body is no equipment, ladder or substance of one's own",
                      "one entry in the shape of the content files, with an id that begins with own_");
    return title;
}

}  // namespace sipladder::drills::record
