#include "tools/report/fault_words.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "tools/report/handout/words.hpp"

namespace coldbay {
namespace {

constexpr std::size_t n_faults = static_cast<std::size_t>(Fault::box_margin) + 1;

/// What one fault is called, kept for as long as the program runs: FaultWords are views of it.
struct Told {
  std::string name, right, note;
};

std::array<Told, n_faults> told_in_english() {
  const Words& english = built_in_words("en");
  std::array<Told, n_faults> all;
  for (std::size_t f = 0; f < n_faults; ++f) {
    const Fault fault = static_cast<Fault>(f);
    all[f] = {said_of(english, fault, "name"), said_of(english, fault, "right"),
              said_of(english, fault, "note")};
  }
  return all;
}

std::array<FaultWords, n_faults> table() {
  static const std::array<Told, n_faults> told = told_in_english();
  std::array<FaultWords, n_faults> all;
  for (std::size_t f = 0; f < n_faults; ++f) all[f] = {told[f].name, told[f].right, told[f].note};
  return all;
}

}  // namespace

const FaultWords& words_of(Fault fault) {
  static const std::array<FaultWords, n_faults> words = table();  // read when first asked for
  return words[static_cast<std::size_t>(fault)];
}

std::vector<std::string_view> notes_of(const std::vector<std::vector<Fault>>& bays) {
  std::vector<std::string_view> notes;
  for (const std::vector<Fault>& bay : bays)
    for (const Fault f : bay) {
      const std::string_view note = words_of(f).note;
      if (!note.empty() && std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(note);
    }
  return notes;
}

std::string names_of(const std::vector<Fault>& faults) {
  std::string names;
  for (const Fault f : faults) names += (names.empty() ? "" : "; ") + std::string(words_of(f).name);
  return names;
}

}  // namespace coldbay
