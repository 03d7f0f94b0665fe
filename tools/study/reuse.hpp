#pragma once

#include <cstdint>
#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "tools/study/opened.hpp"

namespace coldbay {

/// What many variants of a study have in common, solved once and shared by all threads.
///
/// Which variants those are, and what of them is solved, follows from the study and the variant alone, so
/// that neither the order, nor the shares, nor the number of threads change a bit.
class Reuse {
 public:
  /// The study must outlive this.
  explicit Reuse(const OpenStudy& study);
  ~Reuse();

  /// Solves what all variants have in common, where that is one thing, on all threads that there are.
  void prepare();

  /// What is kept of a variant, in the order of its columns; nothing where it is to be solved by itself.
  std::optional<std::vector<double>> solve(const Variant& variant);

 private:
  struct Base;
  std::shared_ptr<Base> base_of(const Variant& variant);

  const OpenStudy& study_;
  std::uint64_t bases_in_all_ = 1;
  bool by_bays_ = false;
  std::mutex mutex_;  ///< over the bases
  std::deque<std::shared_ptr<Base>> bases_;
};

}  // namespace coldbay
