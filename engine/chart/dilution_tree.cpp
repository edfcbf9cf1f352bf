// Flows from left to right, one column a dilution. Columns have slots of their own and the labels of a column
// stand above its bars within the slot, so that no two texts can meet across columns; within a column blocks
// of label and bar are pushed apart. A flow is as high as the volume that it takes, at the scale of the bars;
// what is too little to be seen is drawn a hair wide.
#include "engine/chart/dilution_tree.hpp"

#include "engine/chart/words.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace sipladder::chart {

namespace {

using Kind = TreeNode::Kind;

constexpr double line_ems = 1.25;  ///< from one line of small text to the next
constexpr double row_ems = 1.7;    ///< a rung
constexpr double bar_ems = 1.0;    ///< width of a bar
constexpr double least_bar_ems = 0.5;
constexpr std::size_t label_lines = 3;

std::size_t depth_of(const DilutionTree& tree, const TreeNode& node) {
    return node.from ? depth_of(tree, tree.nodes.at(*node.from)) + 1 : 0;
}

/// The column of every node: its dilutions, but the rungs all stand in the last.
std::vector<std::size_t> columns_of(const DilutionTree& tree) {
    std::size_t last = 1;
    std::vector<std::size_t> columns;
    for (const TreeNode& node : tree.nodes) {
        columns.push_back(depth_of(tree, node));
        last = std::max(last, columns.back() + (node.kind == Kind::stock ? 1 : 0));
    }
    for (std::size_t i = 0; i < tree.nodes.size(); ++i)
        if (tree.nodes[i].kind == Kind::level) columns[i] = last;
    return columns;
}

std::string strength_of(const DilutionTree& tree, const TreeNode& node) {
    return significant(node.level, 3) + " " + unit_text(tree.scale);
}

std::string amount_of(const TreeNode& node) {
    return node.amount + (node.batches > 1 ? " in " + std::to_string(node.batches) + " batches" : "");
}

std::string words_of(const DilutionTree& tree, const TreeNode& node) {
    std::string words = (node.kind == Kind::level ? "bottle " : "") + node.name;
    if (node.kind != Kind::ingredient)
        words += ": " + strength_of(tree, node) + " ± " + percent(node.u_rel) + " (standard uncertainty)";
    words += ", " + amount_of(node);
    if (!node.how.empty()) words += "\n" + node.how;
    return words;
}

/// The more certain, the darker: 0.3 % and less is full, 10 % and more is palest.
double shade_of(const TreeNode& node) {
    if (node.kind == Kind::ingredient) return 0.9;
    const double share = std::log(std::max(node.u_rel, 1e-6) / 0.003) / std::log(0.10 / 0.003);
    return 0.9 - 0.65 * std::clamp(share, 0.0, 1.0);
}

struct Placed {
    std::size_t column{};
    double height{};        ///< of the bar
    double label_height{};  ///< above it
    double top{};           ///< of the block, label first
    double bar_top() const { return top + label_height; }
    double middle() const { return bar_top() + height / 2.0; }
    double block() const { return label_height + height; }
};

class Layout {
  public:
    Layout(const DilutionTree& tree, Rect area, Painter& painter)
        : tree_(tree), area_(area), painter_(painter), em_(painter.text_height(TextSize::small)) {
        SIPLADDER_EXPECT(!tree.nodes.empty());
        const std::vector<std::size_t> columns = columns_of(tree);
        for (const std::size_t column : columns) {
            placed_.push_back({.column = column, .height = 0.0, .label_height = 0.0, .top = 0.0});
            last_ = std::max(last_, column);
        }
        keep_room_for_words();
        measure_table();
        scale_volumes();
        place_rungs();
        for (std::size_t column = last_; column-- > 0;) place_column(column);
    }

    std::vector<Hit> draw() {
        for (std::size_t i = 0; i < tree_.nodes.size(); ++i) draw_flows_from(i);
        std::vector<Hit> hits;
        for (std::size_t i = 0; i < tree_.nodes.size(); ++i) {
            draw_bar(i);
            hits.push_back({tree_.nodes[i].kind == Kind::level ? row_box(i) : block_box(i),
                            words_of(tree_, tree_.nodes[i])});
        }
        draw_table();
        draw_words();
        return hits;
    }

  private:
    bool is_level(std::size_t i) const { return tree_.nodes[i].kind == Kind::level; }
    double slot() const { return (table_x_ - bar_ems * em_ - area_.x) / static_cast<double>(last_); }
    double x_of(std::size_t i) const {
        return is_level(i) ? table_x_ - (bar_ems + 0.5) * em_
                           : area_.x + static_cast<double>(placed_[i].column) * slot();
    }

    /// Title above and the key of the picture below, where they leave most of the area to the tree.
    void keep_room_for_words() {
        plot_ = area_;
        if (area_.height < 9.0 * em_) return;
        if (!tree_.title.empty()) {
            plot_.y += 1.4 * painter_.text_height(TextSize::title);
            plot_.height -= 1.4 * painter_.text_height(TextSize::title);
        }
        key_ = broken("height: volume; fuller colour: more certain; ± one standard uncertainty", area_.width,
                      TextSize::small, painter_, 2);
        plot_.height -= (line_ems * static_cast<double>(key_.size()) + 0.4) * em_;
        plot_.y += line_ems * em_;  // the table's headings
        plot_.height -= line_ems * em_;
        has_headings_ = true;
    }

    /// Letter, level, uncertainty, volume: as many columns as leave half of the width to the flows.
    void measure_table() {
        std::array<double, 4> widths{};
        for (std::size_t i = 0; i < tree_.nodes.size(); ++i) {
            if (!is_level(i)) continue;
            const std::array<std::string, 4> cells = cells_of(i);
            for (std::size_t c = 0; c < cells.size(); ++c)
                widths.at(c) = std::max(widths.at(c), painter_.text_width(cells.at(c), TextSize::small));
        }
        for (std::size_t c = 0; c < headings_.size(); ++c)
            if (has_headings_)
                widths.at(c) = std::max(widths.at(c), painter_.text_width(headings_.at(c), TextSize::small));
        double used = 0.0;
        for (const double width : widths) {
            if (used + width > 0.6 * area_.width) break;
            table_ends_.push_back(used + width);
            used += width + 0.9 * em_;
        }
        table_x_ = area_.right() - (table_ends_.empty() ? 0.0 : table_ends_.back());
    }

    std::array<std::string, 4> cells_of(std::size_t i) const {
        const TreeNode& node = tree_.nodes[i];
        return {node.name, strength_of(tree_, node), "± " + percent(node.u_rel), amount_of(node)};
    }

    double pitch() const {
        const auto rungs = std::count_if(tree_.nodes.begin(), tree_.nodes.end(),
                                         [](const TreeNode& node) { return node.kind == Kind::level; });
        return plot_.height / static_cast<double>(std::max<std::ptrdiff_t>(rungs, 1));
    }

    /// One scale for all bars: the largest rung fills its row but for a gap, and every column fits.
    void scale_volumes() {
        double largest = 0.0;
        for (std::size_t i = 0; i < tree_.nodes.size(); ++i)
            if (is_level(i)) largest = std::max(largest, tree_.nodes[i].volume_mL);
        px_per_mL_ = largest > 0.0 ? 0.72 * pitch() / largest : 0.0;
        for (std::size_t column = 0; column < last_; ++column) {
            double volumes = 0.0;
            double blocks = 0.0;
            for (std::size_t i = 0; i < tree_.nodes.size(); ++i) {
                if (placed_[i].column != column) continue;
                volumes += tree_.nodes[i].volume_mL;
                blocks += 1.0;
            }
            if (blocks == 0.0) continue;
            const double for_labels = 0.75 * plot_.height / blocks;
            lines_ = std::min(lines_, static_cast<std::size_t>(for_labels / (line_ems * em_)));
            const double left = plot_.height - blocks * (static_cast<double>(lines_) * line_ems + 0.5) * em_;
            if (volumes > 0.0) px_per_mL_ = std::min(px_per_mL_, std::max(0.0, left) / volumes);
        }
        for (std::size_t i = 0; i < tree_.nodes.size(); ++i) {
            const double most = is_level(i) ? 0.9 * pitch() : plot_.height;
            placed_[i].height =
                std::min(most, std::max(px_per_mL_ * tree_.nodes[i].volume_mL, least_bar_ems * em_));
            if (!is_level(i)) placed_[i].label_height = static_cast<double>(lines_) * line_ems * em_;
        }
    }

    /// Strongest on top, as in the chart of planned against mixed.
    void place_rungs() {
        std::size_t row = 0;
        for (std::size_t i = tree_.nodes.size(); i-- > 0;) {
            if (!is_level(i)) continue;
            placed_[i].top = plot_.y + (static_cast<double>(row) + 0.5) * pitch() - placed_[i].height / 2.0;
            ++row;
        }
    }

    /// Every block at the height of what is made from it, as near as its neighbours let it.
    void place_column(std::size_t column) {
        std::vector<std::size_t> here;
        for (std::size_t i = 0; i < tree_.nodes.size(); ++i) {
            if (placed_[i].column != column || is_level(i)) continue;
            double sum = 0.0;
            double count = 0.0;
            for (std::size_t child = i + 1; child < tree_.nodes.size(); ++child)
                if (tree_.nodes[child].from == i) {
                    sum += placed_[child].middle();
                    count += 1.0;
                }
            const double wanted = count > 0.0 ? sum / count : plot_.y + plot_.height / 2.0;
            placed_[i].top = wanted - placed_[i].label_height - placed_[i].height / 2.0;
            here.push_back(i);
        }
        std::stable_sort(here.begin(), here.end(),
                         [&](std::size_t a, std::size_t b) { return placed_[a].top < placed_[b].top; });
        const double gap = 0.4 * em_;
        double least = plot_.y;
        for (const std::size_t i : here) {
            placed_[i].top = std::max(placed_[i].top, least);
            least = placed_[i].top + placed_[i].block() + gap;
        }
        double most = plot_.bottom();
        for (std::size_t n = here.size(); n-- > 0;) {
            Placed& block = placed_[here[n]];
            block.top = std::max(plot_.y, std::min(block.top, most - block.block()));
            most = block.top - gap;
        }
    }

    /// What is taken out of a bar leaves it in the order of where it goes.
    void draw_flows_from(std::size_t source) {
        std::vector<std::size_t> children;
        double all = 0.0;
        const double hair = 0.1 * em_;
        const auto width = [&](std::size_t child) {
            return std::min(std::max(px_per_mL_ * tree_.nodes[child].taken_mL, hair), placed_[child].height);
        };
        for (std::size_t child = source + 1; child < tree_.nodes.size(); ++child)
            if (tree_.nodes[child].from == source) {
                children.push_back(child);
                all += width(child);
            }
        std::stable_sort(children.begin(), children.end(), [&](std::size_t a, std::size_t b) {
            return placed_[a].middle() < placed_[b].middle();
        });
        const double shrink = std::min(1.0, all > 0.0 ? placed_[source].height / all : 1.0);
        double leaves = placed_[source].bar_top();
        for (const std::size_t child : children) {
            const double thick = shrink * width(child);
            draw_flow({x_of(source) + bar_ems * em_, leaves + thick / 2.0},
                      {x_of(child), placed_[child].middle()}, thick);
            leaves += thick;
        }
    }

    void draw_flow(Point from, Point to, double thick) {
        constexpr int pieces = 20;
        std::vector<Point> upper;
        std::vector<Point> lower;
        for (int i = 0; i <= pieces; ++i) {
            const double t = static_cast<double>(i) / pieces;
            const double ease = t * t * (3.0 - 2.0 * t);
            const Point middle{from.x + t * (to.x - from.x), from.y + ease * (to.y - from.y)};
            upper.push_back({middle.x, middle.y - thick / 2.0});
            lower.push_back({middle.x, middle.y + thick / 2.0});
        }
        painter_.between(upper, lower, {ink_of(tree_.component), 0.35});
    }

    void draw_bar(std::size_t i) {
        const Placed& placed = placed_[i];
        const Rect bar{x_of(i), placed.bar_top(), bar_ems * em_, placed.height};
        const std::array<Point, 4> corners{Point{bar.x, bar.y}, Point{bar.right(), bar.y},
                                           Point{bar.right(), bar.bottom()}, Point{bar.x, bar.bottom()}};
        painter_.polygon(corners, {Ink::paper, 1.0});
        painter_.polygon(corners, {ink_of(tree_.component), shade_of(tree_.nodes[i])});
        painter_.outline(corners, {ink_of(tree_.component), em_ / 12.0, Dash::solid, 1.0});
        for (std::size_t cut = 1; cut < tree_.nodes[i].batches; ++cut) {
            const double y =
                bar.y + bar.height * static_cast<double>(cut) / static_cast<double>(tree_.nodes[i].batches);
            painter_.line({bar.x, y}, {bar.right(), y}, {Ink::paper, em_ / 8.0, Dash::solid, 1.0});
        }
        if (!is_level(i)) draw_label(i);
    }

    /// Above the bar, within its column's slot.
    void draw_label(std::size_t i) {
        if (lines_ == 0) return;
        const TreeNode& node = tree_.nodes[i];
        const double width = slot() - 0.4 * em_;
        std::vector<std::string> lines;
        if (node.kind == Kind::ingredient) {
            lines = broken(node.name, width, TextSize::small, painter_, std::max<std::size_t>(lines_ - 1, 1));
            if (lines.size() < lines_) lines.push_back(amount_of(node));
        } else {
            lines = {node.name, strength_of(tree_, node) + " ± " + percent(node.u_rel), amount_of(node)};
            if (painter_.text_width(lines[1], TextSize::small) > width) lines[1] = strength_of(tree_, node);
            lines.resize(std::min(lines.size(), lines_));
        }
        double y = placed_[i].bar_top() - static_cast<double>(lines.size()) * line_ems * em_;
        for (const std::string& line : lines) {
            if (painter_.text_width(line, TextSize::small) <= width)
                painter_.text({x_of(i), y}, line, {TextSize::small, Anchor::left, Ink::text});
            y += line_ems * em_;
        }
    }

    Rect block_box(std::size_t i) const {
        return {x_of(i), placed_[i].top, std::min(slot(), 7.0 * em_), placed_[i].block()};
    }
    Rect row_box(std::size_t i) const {
        return {x_of(i), placed_[i].middle() - 0.48 * pitch(), area_.right() - x_of(i), 0.96 * pitch()};
    }

    /// The last column of a table is set to its left, so that volumes with batches line up.
    void draw_cell(std::size_t column, const std::string& text, double y, Ink ink) {
        const bool is_left = column == 0 || column == 3;
        const double left = column == 0 ? 0.0 : table_ends_[column - 1] + 0.9 * em_;
        painter_.text({table_x_ + (is_left ? left : table_ends_[column]), y}, text,
                      {TextSize::small, is_left ? Anchor::left : Anchor::right, ink});
    }

    void draw_table() {
        double free_from = -1e9;
        for (std::size_t i = tree_.nodes.size(); i-- > 0;) {
            if (!is_level(i)) continue;
            if (plot_.height < em_) return;
            const double y = std::clamp(placed_[i].middle() - em_ / 2.0, plot_.y, plot_.bottom() - em_);
            if (y < free_from) continue;
            free_from = y + em_;
            const std::array<std::string, 4> cells = cells_of(i);
            for (std::size_t c = 0; c < table_ends_.size(); ++c) draw_cell(c, cells.at(c), y, Ink::text);
        }
        if (!has_headings_) return;
        for (std::size_t c = 0; c < table_ends_.size(); ++c)
            draw_cell(c, headings_.at(c), plot_.y - line_ems * em_, Ink::muted);
    }

    void draw_words() {
        if (!has_headings_) return;
        double y = area_.bottom() - line_ems * em_ * static_cast<double>(key_.size());
        for (const std::string& line : key_) {
            painter_.text({area_.x, y}, line, {TextSize::small, Anchor::left, Ink::muted});
            y += line_ems * em_;
        }
        if (!tree_.title.empty())
            painter_.text({area_.x, area_.y},
                          broken(tree_.title, area_.width, TextSize::title, painter_, 1).front(),
                          {TextSize::title, Anchor::left, Ink::text});
    }

    const DilutionTree& tree_;
    Rect area_;
    Painter& painter_;
    double em_;
    Rect plot_{};
    std::array<std::string, 4> headings_{"bottle", "level", "± u", "volume"};
    bool has_headings_ = false;
    std::vector<std::string> key_;
    std::vector<Placed> placed_;
    std::size_t last_ = 1;            ///< column of the rungs
    std::vector<double> table_ends_;  ///< right edge of each column, from table_x_
    double table_x_{};
    double px_per_mL_{};
    std::size_t lines_ = label_lines;  ///< of a label above a bar
};

}  // namespace

std::vector<Hit> draw(const DilutionTree& tree, Rect area, Painter& painter) {
    return Layout(tree, area, painter).draw();
}

double height_in_lines(const DilutionTree& tree) {
    std::vector<double> blocks;
    double rungs = 0.0;
    const std::vector<std::size_t> columns = columns_of(tree);
    for (std::size_t i = 0; i < tree.nodes.size(); ++i) {
        if (tree.nodes[i].kind == Kind::level) {
            rungs += 1.0;
            continue;
        }
        blocks.resize(std::max(blocks.size(), columns[i] + 1));
        blocks[columns[i]] += label_lines * line_ems + 2.2;
    }
    const double stocks = blocks.empty() ? 0.0 : *std::max_element(blocks.begin(), blocks.end());
    const double words = 2.0 * line_ems + 0.4 + (tree.title.empty() ? 0.0 : 2.4);
    return std::max(rungs * row_ems, stocks) + words;
}

}  // namespace sipladder::chart
