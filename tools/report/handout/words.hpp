#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "geometry/wall/faults.hpp"
#include "tools/input/words_reader.hpp"

namespace coldbay {

/// The sentence at a key, "normal.studs colder", with what stands in braces put in:
///
///     said(words, "normal.studs colder", {{"studs", "0.9 K"}})
///
/// A value that the sentence has no place for is left out: who reworded it did not want it. Throws
/// std::logic_error, our mistake, for a key that there is none of and for braces with no value.
std::string said(const Words& words, std::string_view key,
                 std::initializer_list<std::pair<std::string_view, std::string>> values = {});

/// What a fault is called among the keys: "inset staples".
std::string_view fault_key(Fault fault);

/// One of a fault's sentences: `what` is name, right, note, check, colder or warmer.
std::string said_of(const Words& words, Fault fault, std::string_view what);

/// Where putting these faults right can hurt someone: the keys of the sentences, "cautions.wiring", each once
/// and in one order. What is true of all work, "cautions.codes", is not among them.
std::vector<std::string_view> cautions_of(const std::vector<Fault>& faults);

}  // namespace coldbay
