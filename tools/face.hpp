#pragma once

#include <filesystem>
#include <optional>

#include "tools/input/case.hpp"
#include "tools/outputs.hpp"
#include "tools/report/palette.hpp"

namespace coldbay {

/// What a reader may ask of the pictures of a face.
struct FaceWishes {
  double within = 0.05;  ///< how sure the face must be [K]
  Palette palette = Palette::hearth;
  bool framing = false;    ///< outline the framing
  bool outer = false;      ///< draw the outer face too
  bool own_scale = false;  ///< scale each picture to itself
};

/// `coldbay face`: solves the face of a case's wall in three dimensions, as built and built right, prints
/// what it shows, and writes the pictures and maps to a folder, or none of them. True where the accuracy was
/// reached.
///
/// Throws InputErrors where the case is wrong or has no wall, SolverError, OutputError.
bool face(const SourceText& source, const MaterialsFile& materials,
          const std::optional<std::filesystem::path>& out, const FaceWishes& wishes);

}  // namespace coldbay
