#include "tools/report/handout/words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <stdexcept>

namespace coldbay {
namespace {

/// What a fault is called among the keys, and what to take care of when it is put right.
struct FaultEntry {
  std::string_view key;
  bool wiring = false;    ///< hands come near cables or a box
  bool foam = false;      ///< foam or loose fill goes where heat may have to get out
  bool fibre = true;      ///< fibre or dust in the air
  bool old_fill = false;  ///< the fill may be older than whoever opens the wall
  bool freezing = false;  ///< water in a pipe
  bool vapour = false;    ///< the facing is cut, taped or stapled
};

/// In the order of Fault.
constexpr std::array<FaultEntry, 20> entries{{
    {.key = "missing", .vapour = true},
    {.key = "gap"},
    {.key = "narrow", .vapour = true},
    {.key = "forced"},
    {.key = "short", .vapour = true},
    {.key = "folded"},
    {.key = "slumped", .old_fill = true},
    {.key = "settled", .foam = true, .old_fill = true},
    {.key = "thin"},
    {.key = "squeezed"},
    {.key = "inset staples", .vapour = true},
    {.key = "shoulders"},
    {.key = "scraps"},
    {.key = "void", .foam = true, .old_fill = true},
    {.key = "pushed over", .wiring = true},
    {.key = "cold pipe", .freezing = true},
    {.key = "box open", .wiring = true, .foam = true},
    {.key = "box squeezed", .wiring = true},
    {.key = "box piece", .wiring = true, .foam = true},
    {.key = "box margin", .wiring = true},
}};
static_assert(entries.size() == static_cast<std::size_t>(Fault::box_margin) + 1);

struct Caution {
  std::string_view key;
  bool FaultEntry::*asked;
};
constexpr std::array<Caution, 6> caution_list{{{"cautions.wiring", &FaultEntry::wiring},
                                               {"cautions.foam", &FaultEntry::foam},
                                               {"cautions.fibre", &FaultEntry::fibre},
                                               {"cautions.old fill", &FaultEntry::old_fill},
                                               {"cautions.freezing", &FaultEntry::freezing},
                                               {"cautions.vapour", &FaultEntry::vapour}}};

const FaultEntry& entry_of(Fault fault) { return entries[static_cast<std::size_t>(fault)]; }

}  // namespace

std::string said(const Words& words, std::string_view key,
                 std::initializer_list<std::pair<std::string_view, std::string>> values) {
  const auto sentence = words.text.find(key);
  if (sentence == words.text.end()) throw std::logic_error(fmt::format("no sentence '{}'", key));
  const auto parts = sentence_parts(sentence->second);
  if (!parts) throw std::logic_error(fmt::format("a brace in '{}' has no fellow", key));
  std::string out;
  for (const SentencePart& part : *parts) {
    if (!part.in_braces) {
      out += part.text;
      continue;
    }
    const auto value = std::find_if(values.begin(), values.end(),
                                    [&part](const auto& named) { return named.first == part.text; });
    if (value == values.end()) throw std::logic_error(fmt::format("'{}' lacks {{{}}}", key, part.text));
    out += value->second;
  }
  return out;
}

std::string_view fault_key(Fault fault) { return entry_of(fault).key; }

std::string said_of(const Words& words, Fault fault, std::string_view what) {
  return said(words, fmt::format("faults.{}.{}", fault_key(fault), what));
}

std::vector<std::string_view> cautions_of(const std::vector<Fault>& faults) {
  std::vector<std::string_view> keys;
  for (const Caution& caution : caution_list)
    if (std::any_of(faults.begin(), faults.end(),
                    [&caution](Fault fault) { return entry_of(fault).*caution.asked; }))
      keys.push_back(caution.key);
  return keys;
}

}  // namespace coldbay
