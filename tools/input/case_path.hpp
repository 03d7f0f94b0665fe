#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "tools/input/document.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// A place in a case, in the case's own words: `wall.frame.spacing`, `wall.bays[2].clear width`.
///
/// Items of a list are counted from 1. In the list of bays what stands between bays is not counted, so that
/// bays[2] is the one that coldbay calls bay 2.
struct CasePath {
  struct Step {
    std::string key;         ///< of a map; or
    std::size_t number = 0;  ///< of an item, from 1; 0: this is a key
  };
  std::string text;  ///< as written
  std::vector<Step> steps;
  Place where;  ///< in the study file
};

/// Reads a path; nothing, and an error, where it is none.
std::optional<CasePath> read_case_path(const Node& node, Reading& in);

/// True where one of the two is on the way to the other, or both are the same.
bool leads_to(const CasePath& from, const CasePath& to);

/// Puts a value at a path into the document of a case, in place of what is there. Keys that are missing are
/// added with the place of the path. A bay in one word becomes the map that says the same, and of `batt`,
/// `fill` and `layers`, of which a bay has one, the one that is set takes the place of the others. Returns in
/// words what is wrong where the path cannot be gone; else nothing.
std::optional<std::string> put(Node& root, const CasePath& path, const Node& value);

/// The places of a study file are told from those of the base case by their lines, which count below zero. A
/// node and all below it, so marked; and a place as it was before.
void mark_as_of_study(Node& node);
Place marked(Place where);
bool is_of_study(Place where);
Place unmarked(Place where);

/// The path of a document most like this one, in the words of CasePath; empty where none is near.
std::string nearest_path(const Node& root, const CasePath& path);

}  // namespace coldbay
