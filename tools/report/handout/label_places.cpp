#include "tools/report/handout/label_places.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <utility>

#include "tools/report/handout/label_dots.hpp"

namespace coldbay {
namespace {

constexpr double beside_line = 0.7;  ///< from a line to the text at it [mm]
constexpr double between = 1.5;      ///< least space between two texts of a row, and between two lines [mm]

/// A text in a row, and where its line comes up.
struct InRow {
  double line = 0.0;
  double width = 0.0;
  std::size_t row = 0;
  bool leftwards = false;
  Span reach() const {
    return leftwards ? Span{line - beside_line - width, line} : Span{line, line + beside_line + width};
  }
};

bool holds(Span reach, double x) { return x > reach.from - 0.5 * between && x < reach.to + 0.5 * between; }

/// A line goes through every row below its own.
bool clash(const InRow& a, const InRow& b) {
  if (a.row == b.row)
    return a.reach().from < b.reach().to + between && b.reach().from < a.reach().to + between;
  return a.row > b.row ? holds(b.reach(), a.line) : holds(a.reach(), b.line);
}

/// Finds rows and sides one text after the other; goes back where one fits nowhere.
class RowSearch {
 public:
  RowSearch(std::vector<InRow>& texts, std::vector<std::size_t> order, PaperBox across)
      : texts_(texts), order_(std::move(order)), across_(across) {}

  bool found(std::size_t n_rows) {
    tries_ = 0;
    return place(0, n_rows);
  }

 private:
  bool place(std::size_t k, std::size_t n_rows) {
    if (k == order_.size()) return true;
    constexpr int enough = 60000;
    InRow& text = texts_[order_[k]];
    for (std::size_t row = 0; row < n_rows; ++row)
      for (const bool leftwards : {false, true}) {
        if (++tries_ > enough) return false;
        text.row = row;
        text.leftwards = leftwards;
        if (text.reach().from < across_.left || text.reach().to > across_.right) continue;
        const bool free = std::none_of(order_.begin(), order_.begin() + static_cast<std::ptrdiff_t>(k),
                                       [&](std::size_t other) { return clash(text, texts_[other]); });
        if (free && place(k + 1, n_rows)) return true;
      }
    return false;
  }

  std::vector<InRow>& texts_;
  std::vector<std::size_t> order_;
  PaperBox across_;
  int tries_ = 0;
};

std::vector<std::size_t> from_left(const std::vector<DotPlace>& dots) {
  std::vector<std::size_t> order(dots.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return dots[a].at.x < dots[b].at.x; });
  return order;
}

bool found_rows(std::vector<InRow>& texts, const std::vector<std::size_t>& order, PaperBox across) {
  const std::vector<std::size_t> backwards(order.rbegin(), order.rend());
  for (std::size_t n = 1; n <= texts.size(); ++n)
    for (const auto* way : {&order, &backwards})
      if (RowSearch(texts, *way, across).found(n)) return true;
  return texts.empty();
}

/// The way that always works: a row for each, falling from the left, with lines bent to where their texts
/// fit.
void stairs(std::vector<InRow>& texts, const std::vector<std::size_t>& order, PaperBox across) {
  double limit = across.right;
  for (std::size_t k = order.size(); k-- > 0;) {
    InRow& text = texts[order[k]];
    text.line = std::min({text.line, limit, across.right - beside_line - text.width});
    text.row = order.size() - 1 - k;
    text.leftwards = false;
    limit = text.line - between;
  }
}

double baseline(double bottom, std::size_t row) { return bottom - lettering_row * static_cast<double>(row); }

/// The lowest row in which a text without a line has room, at the left end, the right one or in between.
InRow unled_place(const std::vector<InRow>& texts, double width, PaperBox across) {
  constexpr std::array<double, 5> shares{0.0, 1.0, 0.5, 0.25, 0.75};
  const double room = across.right - across.left - width;
  for (std::size_t row = 0;; ++row)
    for (const double share : shares) {
      InRow text{across.left + share * room - beside_line, width, row, false};
      const auto in_the_way = [&](const InRow& other) {
        if (other.row == row) return clash(text, other);
        return other.row > row && holds(text.reach(), other.line);
      };
      if (std::none_of(texts.begin(), texts.end(), in_the_way)) return text;
    }
}

double radius_of(const DotPlace& dot) { return std::clamp(0.5 * dot.clear, 0.22, 0.45); }

Lettering shortened_to(const std::string& name, double width) {
  const std::string text = fitted(name, width);
  return {{}, Anchor::start, text, text == name ? std::string{} : name};
}

}  // namespace

RowsOfLabels labels_above(const std::vector<LabelWish>& wishes, const std::vector<std::string>& unled,
                          PaperBox across, double bottom) {
  const double width = across.right - across.left;
  const std::vector<DotPlace> dots = chosen_dots(wishes, false, 2.0 * between, across);
  const std::vector<std::size_t> order = from_left(dots);
  RowsOfLabels rows;
  std::vector<InRow> texts(wishes.size());
  for (std::size_t i = 0; i < wishes.size(); ++i) {
    rows.labels.push_back({shortened_to(wishes[i].name, 0.45 * width), dots[i].at, {}, radius_of(dots[i])});
    texts[i] = {dots[i].at.x, lettering_width(rows.labels[i].text.text), 0, false};
  }
  if (!found_rows(texts, order, across)) stairs(texts, order, across);
  std::size_t highest = 0;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const InRow& t = texts[i];
    PlacedLabel& label = rows.labels[i];
    label.text.anchor = t.leftwards ? Anchor::end : Anchor::start;
    label.text.at = {t.line + (t.leftwards ? -beside_line : beside_line), baseline(bottom, t.row)};
    label.bend = {t.line, bottom + 0.6};
    highest = std::max(highest, t.row);
  }
  for (const std::string& word : unled) {
    Lettering text = shortened_to(word, 0.45 * width);
    texts.push_back(unled_place(texts, lettering_width(text.text), across));
    text.at = {texts.back().line + beside_line, baseline(bottom, texts.back().row)};
    rows.unled.push_back(std::move(text));
    highest = std::max(highest, texts.back().row);
  }
  if (!texts.empty()) rows.height = lettering_row * static_cast<double>(highest) + lettering_mm;
  return rows;
}

namespace {

double turn(PaperPoint a, PaperPoint b, PaperPoint c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

bool cross(const PlacedLabel& a, const PlacedLabel& b) {
  return turn(a.bend, a.dot, b.bend) * turn(a.bend, a.dot, b.dot) < 0.0 &&
         turn(b.bend, b.dot, a.bend) * turn(b.bend, b.dot, a.dot) < 0.0;
}

/// Two lines that cross swap their texts' places: both together get shorter, so it comes to an end.
void uncross(std::vector<PlacedLabel>& labels) {
  for (bool crossed = true; crossed;) {
    crossed = false;
    for (std::size_t i = 0; i < labels.size(); ++i)
      for (std::size_t j = i + 1; j < labels.size(); ++j) {
        if (!cross(labels[i], labels[j])) continue;
        std::swap(labels[i].bend, labels[j].bend);
        crossed = true;
      }
  }
}

}  // namespace

std::vector<PlacedLabel> labels_beside(const std::vector<LabelWish>& wishes, double right, double widest,
                                       double top, double& lowest) {
  const std::vector<DotPlace> dots = chosen_dots(wishes, true, lettering_row, {});
  std::vector<std::size_t> order(dots.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return dots[a].at.y < dots[b].at.y; });
  // Level with its dot where that is free, else just below the one before; then all that hang over move up.
  std::vector<double> middle(order.size());
  for (std::size_t k = 0; k < order.size(); ++k)
    middle[k] =
        std::max(dots[order[k]].at.y, k == 0 ? top + 0.5 * lettering_row : middle[k - 1] + lettering_row);
  const double needed = top + lettering_row * static_cast<double>(order.size());
  double limit = std::max(lowest, needed) - 0.5 * lettering_row;
  for (std::size_t k = order.size(); k-- > 0;) {
    middle[k] = std::min(middle[k], limit);
    limit = middle[k] - lettering_row;
  }
  lowest = std::max(lowest, needed);
  std::vector<PlacedLabel> labels;
  for (std::size_t k = 0; k < order.size(); ++k) {
    PlacedLabel label{shortened_to(wishes[order[k]].name, widest),
                      dots[order[k]].at,
                      {right, middle[k]},
                      radius_of(dots[order[k]])};
    label.text.anchor = Anchor::end;
    labels.push_back(std::move(label));
  }
  uncross(labels);
  for (PlacedLabel& label : labels) label.text.at = {right - beside_line, label.bend.y + 0.36 * lettering_mm};
  return labels;
}

}  // namespace coldbay
