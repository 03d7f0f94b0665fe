#pragma once

#include <optional>
#include <string_view>

#include "tools/study/climates.hpp"
#include "tools/study/opened.hpp"

namespace coldbay {

inline constexpr std::string_view inside_path = "air.inside.temperature";
inline constexpr std::string_view outside_path = "air.outside.temperature";

/// The temperature of the air on a side, and nothing else.
bool is_of_airs(const CasePath& path);

/// A temperature as the reader of cases would read it; nothing where that has something to say.
std::optional<double> celsius_of(const Node& node, UnitSystem units);

/// The airs of a variant, which are `usual` where it does not vary them. Nothing where the reader of cases
/// would have something to say.
std::optional<Airs> airs_of(const Variant& variant, UnitSystem units, Airs usual);

/// All that the variants of a study may have, failing ones left out: whatever is varied beside whatever else
/// is. Nothing where inside may be as warm as outside, or nearly so.
std::optional<ClimateRange> range_of_airs(const OpenStudy& study, UnitSystem units, Airs usual);

}  // namespace coldbay
