#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "tools/study/result_reading.hpp"
#include "tools/study/statistics.hpp"
#include "tools/study/table.hpp"
#include "tools/study/variation.hpp"

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
  double unsure = 0.0;  ///< standard error of the mean, for the few draws there; NaN of a single one
};

/// Numbers rise; texts stand as they first occur. Levels without a result are left out.
struct ParameterEffect {
  bool by_stretches = false;
  std::vector<EffectLevel> levels;
};

/// Up to 24 values stand by themselves; more are gathered into at most 20 stretches of 20 rows and more.
ParameterEffect effect_of(const Levels& levels, const std::vector<double>& result);

/// Of a part that was drawn beside others, so that a stretch has few draws and takes on what those do: its
/// mean has a standard error, from the mean of each draw over its rows. Stretches are of 20 draws; of fewer
/// than 80 there are four, of fewer than 20 as many as leave five to each. Empty of fewer than ten draws.
ParameterEffect effect_of_drawn(const Levels& levels, const std::vector<double>& result,
                                const Crossing& crossing);

/// Which rows have parts away from their middle (see Swing).
struct Moves {
  std::vector<std::size_t> middles;  ///< a level of each part
  std::vector<unsigned char> moved;  ///< by row: how many are away from theirs, up to two
};
Moves moves_of(const Variation& variation);

/// True where no row has more than one away, as in a study that moves one at a time: then means over all else
/// mean nothing.
bool is_one_at_a_time(const Moves& moves);

/// The result in the rows in which all parts but one stand at their middle; NaN in the others.
std::vector<double> with_all_else_still(const Variation& variation, const Moves& moves, std::size_t moved,
                                        const std::vector<double>& result);

/// What a result changes by when one part goes from its lowest value to its highest; one of texts from where
/// the result is least to where it is greatest.
struct Swing {
  std::size_t part = 0;
  double from = 0.0, to = 0.0;     ///< the parameter, where it is a number
  std::string from_text, to_text;  ///< where it is a text
  double at_from = std::numeric_limits<double>::quiet_NaN(), at_to = at_from;  ///< the result; NaN: see below
  /// All else stood at its middle: its commonest value, or where none is commonest the one nearest to the
  /// median, of texts the first. Where no two rows are like that, as in random draws, this is false: means
  /// over all else, in the first and the last class of the part's effect.
  bool all_else_still = false;
  /// Standard error of the change, of means over few draws: see effect_of_drawn(). Where there are too few of
  /// them to tell anything the results are NaN.
  double error = 0.0;
};

/// By the size of the change, greatest first; parts for which nothing is known come last, and those that have
/// one result alone are left out. `effects` are of the parts, in their order.
std::vector<Swing> one_at_a_time(const Variation& variation, const Moves& moves,
                                 const std::vector<ParameterEffect>& effects,
                                 const std::vector<double>& result);

/// One combination of the parameters that are texts (which fill, how laid, which fault), over all else.
struct Combination {
  std::vector<std::string> texts;  ///< in the order of the columns
  Spread result;
  std::size_t rank = 1;  ///< 1 and as many more as are surely better: those that are equal share one
};

/// By their means, the better first (see ResultReading); those of equal means as they first occur. Empty
/// where no parameter is a text.
std::vector<Combination> ranked_combinations(const StudyTable& table, std::size_t result,
                                             const ResultReading& reading);

}  // namespace coldbay
