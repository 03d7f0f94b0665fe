#pragma once

#include <cstddef>
#include <vector>

#include "tools/study/folder.hpp"
#include "tools/study/whole_file.hpp"

namespace coldbay {

/// Writes the rows that are there into `file`, which must be a hidden one, as NetCDF-4 after the CF
/// conventions 1.11: one dimension `variant`; what was varied are its auxiliary coordinates, texts as
/// characters ([CF2023] 2.2, 6.1); units in UDUNITS' grammar; NaN where a result has no meaning. A block of
/// rows is in memory at a time.
///
/// longest: of each field of a row, the bytes of its longest text, at least 1; as many as fields_of() gives.
///
/// Throws OutputError where the disk is full, or where libnetcdf cannot be loaded.
void write_netcdf(const WholeFile& file, const StudyCard& card, const RowIndex& index,
                  const std::vector<std::size_t>& longest);

}  // namespace coldbay
