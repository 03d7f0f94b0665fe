#pragma once

#include <string>
#include <vector>

#include "geometry/wall/fill.hpp"

namespace coldbay {

/// Scraps of a batt stuffed into a block of space: lumps between jittered planes, some of them air pockets,
/// the others of different density. The fibre of all lumps together is what `laid.squeezed` says, exactly;
/// the pockets' share comes within one lump of what is asked for. The same seed gives the same lumps
/// anywhere.
///
/// How scraps lie has no source: sizes and spread are a guess at common practice, which is why the answer is
/// given as a range over many seeds.
void add_scraps(const Scraps& scraps, const Laid& laid, const Material& air, const std::string& path,
                std::vector<Piece>& pieces);

/// Lumps are up to this much denser or lighter than their mean.
inline constexpr double lump_spread = 0.35;

}  // namespace coldbay
