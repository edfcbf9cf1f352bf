#pragma once

#include "drills/classroom/service.hpp"
#include "drills/sheets/labels.hpp"
#include "drills/sheets/paper.hpp"
#include "engine/instant.hpp"
#include "engine/volume.hpp"

#include <string>
#include <vector>

/// What a class needs on paper. All of it follows from one service, so that cups, labels, ballots and key
/// agree.
namespace sipladder::drills::sheets {

struct ClassInfo {
    std::string title;                         ///< "Evening class, sweet and sour"
    std::vector<std::string> names;            ///< by seat; missing or empty: a line to write on
    std::vector<std::string> cautions;         ///< for who mixes, pours and leads
    std::vector<std::string> taster_cautions;  ///< stand on every ballot
    Instant made;
    VolumeUnit volume = VolumeUnit::mL;  ///< of cups and bottles; what a syringe fills a cup with stays in mL
};

/// One ballot a seat, each beginning a page: codes in the order of tasting, boxes for a pencil. It tells
/// nothing of what a cup holds.
std::string ballots_pdf(const classroom::Service& service, const ClassInfo& info, Paper paper);
/// Which code holds what, seat by seat; for the panel leader only, and it says so.
std::string key_pdf(const classroom::Service& service, const ClassInfo& info, Paper paper);
/// Which bottle is poured into how many cups of which code, group by group; for who pours and never tastes.
std::string pour_list_pdf(const classroom::Service& service, const ClassInfo& info, Paper paper);
/// The codes before each seat from left to right, for who sets the table; it tells nothing of what they hold.
std::string tray_maps_pdf(const classroom::Service& service, const ClassInfo& info, Paper paper);

/// One label for every cup to pour, in the order of the pour list.
std::vector<Label> cup_labels(const classroom::Service& service);

}  // namespace sipladder::drills::sheets
