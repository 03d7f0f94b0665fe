#include "tools/study/reuse.hpp"

#include <algorithm>
#include <utility>

#include "materials/model_error.hpp"
#include "solver/solver_error.hpp"
#include "tools/input/case_document.hpp"
#include "tools/input/study_reader.hpp"
#include "tools/study/kept.hpp"
#include "tools/study/nearby.hpp"

namespace coldbay {
namespace {

constexpr std::size_t most_bases = 4;  ///< held at a time

/// A base, and each stretch that is cut out of it, take some times what a variant takes.
constexpr std::uint64_t worth_a_base = 30;

bool is_of_bays(const CasePath& path) {
  return path.steps.size() > 2 && path.steps[0].key == "wall" && path.steps[1].key == "bays";
}

/// How many cases there are but for what is in bays.
std::uint64_t count_bases(const OpenStudy& s) {
  const auto all_bays = [](const std::vector<CasePath>& paths) {
    return std::all_of(paths.begin(), paths.end(), is_of_bays);
  };
  std::uint64_t bases = 1;
  for (const StudyFactor& f : s.study.factors)
    if (!all_bays(f.paths)) bases *= f.size();
  if (!std::all_of(s.study.drawn.begin(), s.study.drawn.end(),
                   [&](const StudyDraw& d) { return all_bays(d.paths); }))
    bases *= s.study.draws;
  return bases;
}

Variant but_for_bays(const Variant& variant) {
  Variant common;
  for (const Variant::Setting& s : variant.settings)
    if (!is_of_bays(*s.path)) common.settings.push_back(s);
  return common;
}

bool same_airs(const Surroundings& a, const Surroundings& b) {
  return a.inside.temperature == b.inside.temperature && a.inside.film == b.inside.film &&
         a.outside.temperature == b.outside.temperature && a.outside.film == b.outside.film;
}

}  // namespace

/// The base case with all that a variant sets outside of bays, and its sections, solved when they are needed.
struct Reuse::Base {
  std::string key;
  std::mutex mutex;
  bool tried = false;
  Case c;
  std::vector<std::unique_ptr<SolvedSection>> built, right;  ///< right empty where it is as built

  /// False where that does not work.
  bool solve(const OpenStudy& study, const Variant& variant) {
    const std::lock_guard lock(mutex);
    if (tried) return !built.empty();
    tried = true;
    c = case_of(study, variant);
    const Accuracy accuracy = accuracy_for(c, study.study.keep);
    std::vector<std::unique_ptr<SolvedSection>> all;
    for (std::size_t s = 0; s < c.sections.size(); ++s) {
      all.push_back(std::make_unique<SolvedSection>(c.sections[s], c.air, accuracy));
      right.push_back(keeps_right(study.study.keep) && c.right.at(s)
                          ? std::make_unique<SolvedSection>(*c.right[s], c.air, accuracy)
                          : nullptr);
    }
    built = std::move(all);
    return true;
  }
};

Reuse::Reuse(const OpenStudy& study)
    : study_(study),
      bases_in_all_(count_bases(study)),
      by_bays_(!keeps_whole_wall(study.study.keep) && study.n / bases_in_all_ >= worth_a_base) {}

Reuse::~Reuse() = default;

std::shared_ptr<Reuse::Base> Reuse::base_of(const Variant& variant) {
  std::string key;
  for (const Variant::Setting& s : variant.settings)
    if (!is_of_bays(*s.path)) key += in_one_line(s.value) + '\n';
  const std::lock_guard lock(mutex_);
  for (const auto& base : bases_)
    if (base->key == key) return base;
  if (bases_.size() == most_bases) bases_.pop_front();
  bases_.push_back(std::make_shared<Base>());
  bases_.back()->key = key;
  return bases_.back();
}

void Reuse::prepare() {
  if (!by_bays_ || bases_in_all_ > 1) return;
  const Variant first = variant_at(study_.study, study_.varied, 0);
  try {
    (void)base_of(first)->solve(study_, but_for_bays(first));
  } catch (const InputErrors&) {  // each variant says why
  } catch (const ModelError&) {
  } catch (const SolverError&) {
  }
}

std::optional<std::vector<double>> Reuse::solve(const Variant& variant) {
  if (!by_bays_) return std::nullopt;
  const std::vector<Kept>& keep = study_.study.keep;
  const auto base = base_of(variant);
  try {
    if (!base->solve(study_, but_for_bays(variant))) return std::nullopt;

    const bool with_right = keeps_right(keep);
    const Case c = case_of(study_, variant, {with_right, false, false, false});
    if (!same_airs(c.air, base->c.air)) return std::nullopt;
    std::vector<Results> built;
    std::vector<std::optional<Results>> right(c.sections.size());
    for (std::size_t s = 0; s < c.sections.size(); ++s) {
      std::optional<Results> r = base->built[s]->like(c.sections[s]);
      if (!r) return std::nullopt;
      built.push_back(std::move(*r));
      if (!with_right || !c.right.at(s)) continue;
      right[s] = (base->right[s] ? base->right[s] : base->built[s])->like(*c.right[s]);
      if (!right[s]) return std::nullopt;
    }
    std::vector<double> numbers;
    for (const Kept kept : keep)
      for (std::size_t s = 0; s < built.size(); ++s)
        numbers.push_back(kept_of(kept, built[s], right[s] ? &*right[s] : nullptr));
    return numbers;
  } catch (const InputErrors&) {
  } catch (const ModelError&) {
  } catch (const SolverError&) {
  }
  return std::nullopt;  // solved by itself, it says why
}

}  // namespace coldbay
