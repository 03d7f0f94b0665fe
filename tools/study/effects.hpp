#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "tools/study/statistics.hpp"
#include "tools/study/table.hpp"

namespace coldbay {

/// The values of a parameter gathered into classes of rows that are next to each other: of one value each, or
/// where there are more values than `most`, that many stretches of about as many rows, a value never parted.
struct Classes {
  std::size_t count = 0;
  std::vector<std::uint32_t> of_level;
};
Classes classes_of(const Levels& levels, std::size_t most);

/// A result where a parameter has one value or lies in one stretch, over whatever else was varied.
struct EffectLevel {
  std::string text;             ///< of a parameter of texts
  double from = 0.0, to = 0.0;  ///< of one of numbers, the same where it is one value
  double middle = 0.0;          ///< mean of the parameter there
  Spread result;
};

/// Numbers rise; texts stand as they first occur. Levels without a result are left out.
struct ParameterEffect {
  bool by_stretches = false;
  std::vector<EffectLevel> levels;
};

/// Up to 24 values stand by themselves; more are gathered into at most 20 stretches of 20 rows and more.
ParameterEffect effect_of(const Levels& levels, const std::vector<double>& result);

/// Which rows have parameters away from their middle (see Swing).
struct Moves {
  std::vector<std::size_t> middles;  ///< a level of each parameter
  std::vector<unsigned char> moved;  ///< by row: how many are away from theirs, up to two
};
Moves moves_of(const std::vector<Levels>& levels);

/// True where no row has more than one away, as in a study that moves one at a time: then means over all else
/// mean nothing.
bool is_one_at_a_time(const Moves& moves);

/// The result in the rows in which all parameters but one stand at their middle; NaN in the others.
std::vector<double> with_all_else_still(const std::vector<Levels>& levels, const Moves& moves,
                                        std::size_t moved, const std::vector<double>& result);

/// What a result changes by when one parameter goes from its lowest value to its highest; one of texts from
/// where the result is least to where it is greatest.
struct Swing {
  std::size_t parameter = 0;
  double from = 0.0, to = 0.0;     ///< the parameter, where it is a number
  std::string from_text, to_text;  ///< where it is a text
  double at_from = std::numeric_limits<double>::quiet_NaN(), at_to = at_from;  ///< the result
  /// All else stood at its middle: its commonest value, or where none is commonest the one nearest to the
  /// median. Where no two rows are like that, as in random draws, this is false: means over all else, in the
  /// first and the last class of effect_of().
  bool all_else_still = false;
};

/// By the size of the change, greatest first; parameters for which nothing is known are left out. `levels`
/// and `effects` are of `parameters`, in their order.
std::vector<Swing> one_at_a_time(const std::vector<std::size_t>& parameters,
                                 const std::vector<Levels>& levels, const Moves& moves,
                                 const std::vector<ParameterEffect>& effects,
                                 const std::vector<double>& result);

/// One combination of the parameters that are texts (which fill, how laid, which fault), over all else.
struct Combination {
  std::vector<std::string> texts;  ///< in the order of the columns
  Spread result;
};

/// By their means, the least first; those of equal means as they first occur. Empty where no parameter is a
/// text.
std::vector<Combination> ranked_combinations(const StudyTable& table,
                                             const std::vector<std::size_t>& parameters, std::size_t result);

}  // namespace coldbay
