#pragma once

#include <initializer_list>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "materials/library.hpp"
#include "tools/input/document.hpp"
#include "tools/input/input_error.hpp"
#include "tools/input/quantity.hpp"

namespace coldbay {

/// Stands for a number that could not be read, and whose error is noted already. The checks of
/// geometry/ say nothing of such numbers, since every comparison with them is false.
inline constexpr double unread = std::numeric_limits<double>::quiet_NaN();

/// What every reader of a piece of a case needs: the file's units, the materials known by name, and
/// a list for all that is wrong. Readers note an error and go on, so that one run shows them all;
/// what they return after an error is never used.
struct Reading {
  UnitSystem system = UnitSystem::metric;
  const Library& library;
  std::vector<InputError> errors;
  std::vector<InputError> warnings;

  /// Throws InputErrors once there are most_errors of them: nobody reads more, and a file of nothing but
  /// errors would take minutes.
  void error(Place where, std::string title, std::string hint = {}, std::string label = {});
};

/// A map whose keys are known beforehand. Making one notes an error for a value that is not a map
/// and for every key it does not take, with the nearest that it does.
class Fields {
 public:
  Fields(const Node& node, std::string_view what, std::initializer_list<std::string_view> keys, Reading& in);

  /// Null where the key is not there or has no value; `required` notes an error then.
  const Node* optional(const std::string& key) const;
  const Node* required(const std::string& key, const std::string& hint = {}) const;
  bool is_map() const { return node_.kind == Node::Kind::map; }

 private:
  const Node& node_;
  std::string what_;
  Reading& in_;
};

/// A number with its unit; nothing, and an error, where it is not one or lies outside [least, most].
std::optional<double> read_quantity(const Node& node, Quantity quantity, Reading& in);
std::optional<double> read_quantity(const Node* node, Quantity quantity,
                                    Reading& in);  ///< null reads nothing

/// A length above zero and below the largest a wall can have.
std::optional<double> read_size(const Node* node, Reading& in);

/// Two lengths in order: `[0 mm, 12.5 mm]`.
struct Pair {
  double first, second;
};
std::optional<Pair> read_pair(const Node& node, std::string_view what, Reading& in);

/// A word or line of text.
std::optional<std::string> read_text(const Node& node, std::string_view what, Reading& in);

/// Which of the words stands here; an error with the nearest one where none does.
std::optional<std::size_t> read_choice(const Node& node, std::string_view what,
                                       std::initializer_list<std::string_view> words, Reading& in);

/// A whole number from `least` to `most`.
std::optional<int> read_count(const Node& node, int least, int most, Reading& in);

/// A list; an error and an empty one for anything else.
const std::vector<Node>& read_list(const Node& node, std::string_view what, Reading& in);

}  // namespace coldbay
