#include "tools/input/case_path.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <string_view>
#include <utility>

#include "tools/input/case_document.hpp"
#include "tools/input/nearest_word.hpp"
#include "tools/input/wall_reader.hpp"

namespace coldbay {
namespace {

constexpr int marked_lines = 10;  ///< -10 is line 0 of the study file: 0 itself is the file as a whole

/// The steps as far as they were gone, as written.
std::string so_far(const CasePath& path, std::size_t steps) {
  std::string text;
  for (std::size_t i = 0; i < steps; ++i) {
    const CasePath::Step& step = path.steps[i];
    if (step.number > 0)
      text += fmt::format("[{}]", step.number);
    else
      text += (text.empty() ? "" : ".") + step.key;
  }
  return text.empty() ? "the case" : "'" + text + "'";
}

/// The items of a list that are counted: of bays, those that are bays.
std::vector<std::size_t> counted(const Node& list) {
  std::vector<std::size_t> items;
  items.reserve(list.items.size());
  const bool bays = list.path == "wall.bays";
  for (std::size_t i = 0; i < list.items.size(); ++i)
    if (!bays || !is_post(list.items[i])) items.push_back(i);
  return items;
}

bool is_bay(const Node& node) {
  return node.path.starts_with("wall.bays[") && node.path.find(']') + 1 == node.path.size();
}

/// A bay in one word, `batt R-13` or `cellulose`, as the map that says the same.
void spell_out(Node& bay) {
  constexpr std::string_view label = "batt ";
  Node fill = bay;
  const bool is_batt = fill.text.starts_with(label);
  if (is_batt) fill.text.erase(0, label.size());
  const std::string path = bay.path;
  const Place where = bay.where;
  bay = Node{};
  bay.kind = Node::Kind::map;
  bay.where = where;
  bay.entries.push_back({is_batt ? "batt" : "fill", where, std::move(fill)});
  set_paths(bay, path);
}

/// What a bay is filled with is said in one of three ways: who sets one takes the others away.
void take_other_fills(Node& bay, const std::string& key) {
  constexpr std::array<std::string_view, 3> ways{"batt", "fill", "layers"};
  if (std::find(ways.begin(), ways.end(), key) == ways.end()) return;
  std::erase_if(bay.entries, [&](const Node::Entry& e) {
    return e.key != key && std::find(ways.begin(), ways.end(), e.key) != ways.end();
  });
}

/// Every path of a document in our words.
void collect_paths(const Node& node, const std::string& path, std::vector<std::string>& all) {
  if (!path.empty()) all.push_back(path);
  const std::vector<std::size_t> items = counted(node);
  for (std::size_t i = 0; i < items.size(); ++i)
    collect_paths(node.items[items[i]], fmt::format("{}[{}]", path, i + 1), all);
  for (const auto& entry : node.entries)
    collect_paths(entry.value, path.empty() ? entry.key : path + "." + entry.key, all);
}

}  // namespace

std::optional<CasePath> read_case_path(const Node& node, Reading& in) {
  const auto bad = [&](const char* why) {
    in.error(node.where, why,
             "write the words on the way to a value of the case: wall.frame.spacing, wall.bays[2].width");
    return std::nullopt;
  };
  if (node.kind != Node::Kind::scalar) return bad("a path is a word");
  CasePath path{harmless(node.text), {}, node.where};
  std::string_view rest = node.text;
  while (!rest.empty()) {
    if (rest.front() == '[') {
      const std::size_t end = rest.find(']');
      if (end == std::string_view::npos || path.steps.empty()) return bad("a bracket of this path is wrong");
      std::size_t number = 0;
      const auto [stop, error] = std::from_chars(rest.data() + 1, rest.data() + end, number);
      if (error != std::errc() || stop != rest.data() + end || number == 0)
        return bad("the items of a list are counted 1, 2, 3");
      path.steps.push_back({"", number});
      rest.remove_prefix(end + 1);
      continue;
    }
    if (!path.steps.empty()) {
      if (rest.front() != '.') return bad("a bracket is followed by a point");
      rest.remove_prefix(1);
    }
    const std::size_t end = std::min(rest.find_first_of(".["), rest.size());
    if (end == 0) return bad("a word of this path is missing");
    path.steps.push_back({std::string(rest.substr(0, end)), 0});
    rest.remove_prefix(end);
  }
  if (path.steps.empty()) return bad("this path is empty");
  return path;
}

bool leads_to(const CasePath& from, const CasePath& to) {
  const std::size_t n = std::min(from.steps.size(), to.steps.size());
  return std::equal(from.steps.begin(), from.steps.begin() + static_cast<std::ptrdiff_t>(n), to.steps.begin(),
                    [](const auto& a, const auto& b) { return a.key == b.key && a.number == b.number; });
}

std::optional<std::string> put(Node& root, const CasePath& path, const Node& value) {
  Node* at = &root;
  for (std::size_t i = 0; i < path.steps.size(); ++i) {
    const CasePath::Step& step = path.steps[i];
    if (step.number > 0) {
      const std::vector<std::size_t> items = counted(*at);
      if (at->kind != Node::Kind::sequence)
        return fmt::format("{} is {} and not a list", so_far(path, i), name_of(at->kind));
      if (step.number > items.size())
        return fmt::format("{} has {} item{}, and no number {}", so_far(path, i), items.size(),
                           items.size() == 1 ? "" : "s", step.number);
      at = &at->items[items[step.number - 1]];
      continue;
    }
    if (at->kind == Node::Kind::null) at->kind = Node::Kind::map;
    if (at->kind == Node::Kind::scalar && is_bay(*at)) spell_out(*at);
    if (at->kind == Node::Kind::scalar)
      return fmt::format("{} is '{}', in one word, and takes no '{}': write it as a map", so_far(path, i),
                         shortened(at->text), step.key);
    if (at->kind != Node::Kind::map)
      return fmt::format("{} is {}: say which item is meant, as in [1]", so_far(path, i), name_of(at->kind));
    if (is_bay(*at)) take_other_fills(*at, step.key);
    const auto entry = std::find_if(at->entries.begin(), at->entries.end(),
                                    [&](const Node::Entry& e) { return e.key == step.key; });
    if (entry != at->entries.end()) {
      at = &entry->value;
      continue;
    }
    Node added;
    added.where = marked(path.where);
    added.path = at->path.empty() ? step.key : at->path + "." + step.key;
    at->entries.push_back({step.key, marked(path.where), std::move(added)});
    at = &at->entries.back().value;
  }
  const std::string place = at->path;
  *at = value;
  set_paths(*at, place);
  return std::nullopt;
}

Place marked(Place where) { return {-where.line - marked_lines, where.column, where.length}; }
bool is_of_study(Place where) { return where.line <= -marked_lines; }
Place unmarked(Place where) { return {-where.line - marked_lines, where.column, where.length}; }

void mark_as_of_study(Node& node) {
  node.where = marked(node.where);
  for (Node& item : node.items) mark_as_of_study(item);
  for (auto& entry : node.entries) {
    entry.where = marked(entry.where);
    mark_as_of_study(entry.value);
  }
}

std::string nearest_path(const Node& root, const CasePath& path) {
  std::vector<std::string> all;
  collect_paths(root, "", all);
  std::string near = nearest_word(path.text, all);
  const auto words = [](std::string text) {
    std::erase_if(text, [](char c) { return c >= '0' && c <= '9'; });
    return text;
  };
  return words(near) == words(path.text) ? "" : near;  // another item of a list is no slip of the pen
}

}  // namespace coldbay
