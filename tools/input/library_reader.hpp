#pragma once

#include "materials/library.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// The library that comes with coldbay, materials/library.yaml, built into the program.
const Library& built_in_library();

/// A library and a file of the reader's own over it: a list of materials in the form of
/// materials/library.yaml, with the same checks. Throws InputErrors with everything that is wrong with the
/// file.
Library library_with(const SourceText& own);

/// Reads a list of materials into a library, each over one of its name that is there already; two of one
/// name in the list are an error. With `default_source`, an entry may leave its source out.
void read_materials(const Node& list, Library& library, const std::string& default_source, Reading& in);

/// Conductivity of a material, a number or a law in temperature, into it:
///
///     conductivity: 0.035 W/mK
///     conductivity: {at 0 °C: 0.0294 W/mK, per K: 1.06e-4, per K2: 2.0e-7, per K3: 0, from: -10 °C, to: 50
///     °C}
///
/// False, with an error noted, where it is neither, or where the law is not above 0 everywhere in its range.
bool read_conductivity(const Node& node, Material& material, Reading& in);

/// What a material may have besides its conductivity: `along grain`, density, specific heat, emissivity.
void read_properties(const Fields& fields, Material& material, Reading& in);

}  // namespace coldbay
