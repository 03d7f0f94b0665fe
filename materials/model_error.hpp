#pragma once

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace coldbay {

/// One thing wrong with a description of a wall or a section, said in the words of the description.
///
/// `path` names the place as the case spells it ("wall.bays[2].box.depth"), so that the edge of the
/// program can turn it into file:line:column; the folders below tools/ never hear of files.
struct Problem {
  std::string path;  ///< place in the case; empty for the case as a whole
  std::string what;  ///< one line, no full stop
  std::string hint;  ///< what to write instead; may be empty
};

/// Thrown when a description cannot be a wall. Carries every problem found, at least one.
class ModelError : public std::runtime_error {
 public:
  explicit ModelError(std::vector<Problem> problems)
      : std::runtime_error(problems.empty() ? "no problem given" : problems.front().what),
        problems_(std::move(problems)) {}
  ModelError(std::string path, std::string what, std::string hint = {})
      : ModelError(std::vector<Problem>{{std::move(path), std::move(what), std::move(hint)}}) {}

  const std::vector<Problem>& problems() const noexcept { return problems_; }

 private:
  std::vector<Problem> problems_;
};

}  // namespace coldbay
