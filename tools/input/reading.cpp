#include "tools/input/reading.hpp"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <utility>

#include "geometry/section_checks.hpp"
#include "tools/input/nearest_word.hpp"

namespace coldbay {
namespace {

std::optional<double> read_between(const Node& node, Quantity quantity, double least, double most,
                                   Reading& in, const std::string& range) {
  if (node.kind != Node::Kind::scalar) {
    in.error(node.where,
             fmt::format("{} stands where {} is wanted", name_of(node.kind), example_of(quantity)));
    return std::nullopt;
  }
  const auto value = parse_quantity(node.text, quantity, in.system);
  if (const auto* wrong = std::get_if<std::string>(&value)) {
    in.error(node.where, *wrong);
    return std::nullopt;
  }
  const double number = std::get<double>(value);
  if (!(number >= least && number <= most)) {
    in.error(node.where, fmt::format("'{}' is out of range", shortened(node.text)), range);
    return std::nullopt;
  }
  return number;
}

}  // namespace

void Reading::error(Place where, std::string title, std::string hint, std::string label) {
  errors.push_back({where, std::move(title), std::move(label), std::move(hint)});
  if (errors.size() >= most_errors) throw InputErrors(std::move(errors));
}

Fields::Fields(const Node& node, std::string_view what, std::initializer_list<std::string_view> keys,
               Reading& in)
    : node_(node), what_(what), in_(in) {
  const std::vector<std::string> known(keys.begin(), keys.end());
  const std::string takes = fmt::format("{} takes: {}", what, fmt::join(known, ", "));
  if (!is_map()) {
    in.error(node.where, fmt::format("{} stands where {} is wanted", name_of(node.kind), what), takes);
    return;
  }
  for (const auto& entry : node.entries) {
    if (std::find(known.begin(), known.end(), entry.key) != known.end()) continue;
    const std::string near = nearest_word(entry.key, known);
    const bool decimals = entry.value.kind == Node::Kind::null && entry.key.find_first_of("0123456789") == 0;
    in.error(entry.where, fmt::format("unknown key '{}'", shortened(entry.key)),
             decimals ? "is it part of a number? Write the decimals after a point: a comma begins a new entry"
             : near.empty() ? takes
                            : fmt::format("did you mean '{}'? {}", near, takes),
             fmt::format("not a key of {}", what));
  }
}

const Node* Fields::optional(const std::string& key) const {
  const Node* value = node_.find(key);
  return value && value->kind != Node::Kind::null ? value : nullptr;
}

const Node* Fields::required(const std::string& key, const std::string& hint) const {
  const Node* value = optional(key);
  if (!value && is_map()) in_.error(node_.where, fmt::format("{} needs '{}'", what_, key), hint);
  return value;
}

std::optional<double> read_quantity(const Node& node, Quantity quantity, Reading& in) {
  switch (quantity) {
    case Quantity::length:
      return read_between(node, quantity, -largest_size, largest_size, in,
                          fmt::format("no length is beyond {} m", largest_size));
    case Quantity::temperature:
      return read_between(node, quantity, -273.15, 1500.0, in,
                          "a temperature lies between absolute zero, -273.15 °C, and 1500 °C");
    case Quantity::conductivity:
      return read_between(node, quantity, 1e-6, 1e5, in,
                          "a conductivity lies above 0 (from 1e-6 to 1e5 W/mK)");
    case Quantity::resistance:
      return read_between(node, quantity, 0.0, 1e4, in, "a resistance is 0 or more (and below 1e4 m2K/W)");
    case Quantity::fraction:
      return read_between(node, quantity, 0.0, 1.0, in, "a share lies between 0 % and 100 %");
    case Quantity::density:
      return read_between(node, quantity, 0.01, 3e4, in, "a density lies above 0 (from 0.01 to 30000 kg/m3)");
    case Quantity::specific_heat:
      return read_between(node, quantity, 1.0, 1e5, in,
                          "a specific heat lies above 0 (from 1 to 100000 J/kgK)");
    case Quantity::airflow_resistivity:
      return read_between(
          node, quantity, 1.0, 1e9, in,
          "an airflow resistivity lies above 0 (from 1 to 1e9 Pa s/m2); leave it out where no "
          "air gets through");
    case Quantity::degree_time: {
      constexpr double day = 86400.0;  // [s]; no place is 80 K too cold all the year
      return read_between(
          node, quantity, day, 30000.0 * day, in,
          "degree days lie between 1 and 30000 K day: a mild place has 1000, a cold one 6000");
    }
    case Quantity::angle:
    case Quantity::number:
    case Quantity::temperature_difference:
    case Quantity::transmittance:
    case Quantity::heat_per_length:
      break;
  }
  return read_between(node, quantity, -1e9, 1e9, in, "no such number is met in a wall");
}

std::optional<double> read_quantity(const Node* node, Quantity quantity, Reading& in) {
  return node ? read_quantity(*node, quantity, in) : std::nullopt;
}

std::optional<double> read_size(const Node* node, Reading& in) {
  if (!node) return std::nullopt;
  return read_between(*node, Quantity::length, smallest_size, largest_size, in,
                      fmt::format("a size lies between {} mm and {} m", 1e3 * smallest_size, largest_size));
}

std::optional<Pair> read_pair(const Node& node, std::string_view what, Reading& in) {
  if (node.kind != Node::Kind::sequence || node.items.size() != 2) {
    in.error(node.where, fmt::format("{} is two lengths, such as [0 mm, 12.5 mm]", what));
    return std::nullopt;
  }
  const auto first = read_quantity(node.items[0], Quantity::length, in);
  const auto second = read_quantity(node.items[1], Quantity::length, in);
  if (!first || !second) return std::nullopt;
  return Pair{*first, *second};
}

std::optional<std::string> read_text(const Node& node, std::string_view what, Reading& in) {
  if (node.kind == Node::Kind::scalar) return harmless(node.text);
  in.error(node.where, fmt::format("{} stands where {} is wanted", name_of(node.kind), what));
  return std::nullopt;
}

std::optional<std::size_t> read_choice(const Node& node, std::string_view what,
                                       std::initializer_list<std::string_view> words, Reading& in) {
  const auto text = read_text(node, what, in);
  if (!text) return std::nullopt;
  const auto at =
      std::find_if(words.begin(), words.end(), [&](std::string_view w) { return same_name(w, *text); });
  if (at != words.end()) return static_cast<std::size_t>(at - words.begin());
  const std::vector<std::string> known(words.begin(), words.end());
  const std::string near = nearest_word(*text, known);
  in.error(node.where, fmt::format("'{}' is not {}", shortened(*text), what),
           fmt::format("{}{} is one of: {}", near.empty() ? "" : fmt::format("did you mean '{}'? ", near),
                       what, fmt::join(known, ", ")));
  return std::nullopt;
}

std::optional<int> read_count(const Node& node, int least, int most, Reading& in) {
  int value = 0;
  const char* end = node.text.data() + node.text.size();
  const auto [stop, error] = std::from_chars(node.text.data(), end, value);
  if (node.kind == Node::Kind::scalar && error == std::errc() && stop == end && value >= least &&
      value <= most)
    return value;
  in.error(node.where, fmt::format("a whole number from {} to {} is wanted here", least, most));
  return std::nullopt;
}

const std::vector<Node>& read_list(const Node& node, std::string_view what, Reading& in) {
  static const std::vector<Node> none;
  if (node.kind == Node::Kind::sequence) return node.items;
  in.error(node.where,
           fmt::format("{} stands where {} is wanted: start each with '- '", name_of(node.kind), what));
  return none;
}

}  // namespace coldbay
