#pragma once

#include <cstdint>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "tools/study/opened.hpp"

namespace coldbay {

/// What many variants of a study have in common, solved once and shared by all threads: a section that they
/// change in a few bays alone (nearby.hpp), or that they see in other climates (climates.hpp).
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
  Variant common(const Variant& variant) const;
  std::shared_ptr<Base> base_of(const Variant& common);
  std::optional<std::vector<double>> in_climate(const Base& base, const Variant& variant) const;
  std::optional<std::vector<double>> beside(Base& base, const Variant& variant) const;

  const OpenStudy& study_;
  bool (*is_varied_)(const CasePath&) =
      nullptr;            ///< from variant to variant of a base; null: nothing is reused
  bool by_airs_ = false;  ///< and that is their airs; else what is in their bays
  std::uint64_t bases_in_all_ = 1;
  std::mutex mutex_;  ///< over the bases
  std::vector<std::shared_ptr<Base>> bases_;
};

}  // namespace coldbay
