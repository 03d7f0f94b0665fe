#include "tools/study/reuse.hpp"

#include <algorithm>
#include <utility>

#include "materials/model_error.hpp"
#include "solver/solver_error.hpp"
#include "tools/input/case_document.hpp"
#include "tools/study/climates.hpp"
#include "tools/study/kept.hpp"
#include "tools/study/nearby.hpp"
#include "tools/study/study_reader.hpp"
#include "tools/study/variant_solver.hpp"
#include "tools/study/varied_airs.hpp"

namespace coldbay {
namespace {

/// Held at a time. Where there are more, variants may come in an order in which none would be found again.
constexpr std::size_t most_bases = 64;

/// How many variants a base must serve. By bays it takes some times what a variant takes, and so does each
/// stretch that is cut out; for climates it takes as much as some tens.
constexpr std::uint64_t worth_by_bays = 30, worth_by_airs = 100;

bool is_of_bays(const CasePath& path) {
  return path.steps.size() > 2 && path.steps[0].key == "wall" && path.steps[1].key == "bays";
}

/// How many cases there are but for what lies at such paths.
std::uint64_t count_bases(const OpenStudy& s, bool (*is_varied)(const CasePath&)) {
  const auto all = [&](const std::vector<CasePath>& paths) {
    return std::all_of(paths.begin(), paths.end(), is_varied);
  };
  std::uint64_t bases = 1;
  for (const StudyFactor& f : s.study.factors)
    if (!all(f.paths)) bases *= f.size();
  if (!std::all_of(s.study.drawn.begin(), s.study.drawn.end(),
                   [&](const StudyDraw& d) { return all(d.paths); }))
    bases *= s.study.draws;
  return bases;
}

bool same_airs(const Surroundings& a, const Surroundings& b) {
  return a.inside.temperature == b.inside.temperature && a.inside.film == b.inside.film &&
         a.outside.temperature == b.outside.temperature && a.outside.film == b.outside.film;
}

std::vector<double> numbers_of(const std::vector<Kept>& keep, const std::vector<Results>& built,
                               const std::vector<std::optional<Results>>& right) {
  std::vector<double> numbers;
  for (const Kept kept : keep)
    for (std::size_t s = 0; s < built.size(); ++s)
      numbers.push_back(kept_of(kept, built[s], right[s] ? &*right[s] : nullptr));
  return numbers;
}

}  // namespace

/// The base case with all that its variants have in common, and its sections, solved when they are first
/// needed.
struct Reuse::Base {
  std::string key;
  std::mutex mutex;
  bool tried = false, usable = false;
  Case c;
  /// One of each is used; `right` is empty where it is as built.
  std::vector<std::unique_ptr<SolvedSection>> built, right;
  std::vector<std::unique_ptr<SectionClimates>> climates, climates_right;

  /// False where that does not work.
  bool solve(const OpenStudy& study, const Variant& common, bool by_airs) {
    const std::lock_guard lock(mutex);
    if (tried) return usable;
    tried = true;
    c = case_of(study, common);
    const Accuracy accuracy = accuracy_for(c, study.study.keep);
    if (by_airs) {
      if (follows_its_airs(c)) return false;  // solved once by itself
      const auto range = range_of_airs(study, c.units, {c.air.inside.temperature, c.air.outside.temperature});
      if (!range) return false;
      make(study, climates, climates_right, *range, accuracy);
    } else {
      make(study, built, right, accuracy);
    }
    return usable = true;
  }

 private:
  template <class Solved, class... With>
  void make(const OpenStudy& study, std::vector<std::unique_ptr<Solved>>& as_built,
            std::vector<std::unique_ptr<Solved>>& as_right, const With&... with) const {
    for (std::size_t s = 0; s < c.sections.size(); ++s) {
      as_built.push_back(std::make_unique<Solved>(c.sections[s], c.air, with...));
      as_right.push_back(keeps_right(study.study.keep) && s < c.right.size() && c.right[s]
                             ? std::make_unique<Solved>(*c.right[s], c.air, with...)
                             : nullptr);
    }
  }
};

Reuse::Reuse(const OpenStudy& study) : study_(study) {
  if (keeps_whole_wall(study.study.keep)) return;
  const auto worth = [&](bool (*is_varied)(const CasePath&), std::uint64_t variants) {
    bases_in_all_ = count_bases(study, is_varied);
    is_varied_ = bases_in_all_ <= most_bases && study.n / bases_in_all_ >= variants ? is_varied : nullptr;
    return is_varied_ != nullptr;
  };
  by_airs_ = worth(is_of_airs, worth_by_airs);
  if (!by_airs_) worth(is_of_bays, worth_by_bays);
}

Reuse::~Reuse() = default;

Variant Reuse::common(const Variant& variant) const {
  Variant rest;
  for (const Variant::Setting& s : variant.settings)
    if (!is_varied_(*s.path)) rest.settings.push_back(s);
  return rest;
}

std::shared_ptr<Reuse::Base> Reuse::base_of(const Variant& common) {
  std::string key;
  for (const Variant::Setting& s : common.settings) key += in_one_line(s.value) + '\n';
  const std::lock_guard lock(mutex_);
  for (const auto& base : bases_)
    if (base->key == key) return base;
  bases_.push_back(std::make_shared<Base>());
  bases_.back()->key = key;
  return bases_.back();
}

void Reuse::prepare() {
  if (!is_varied_ || bases_in_all_ > 1) return;
  const Variant first = common(variant_at(study_.study, study_.varied, 0));
  try {
    (void)base_of(first)->solve(study_, first, by_airs_);
  } catch (const InputErrors&) {  // each variant says why
  } catch (const ModelError&) {
  } catch (const SolverError&) {
  }
}

std::optional<std::vector<double>> Reuse::solve(const Variant& variant) {
  if (!is_varied_) return std::nullopt;
  const Variant rest = common(variant);
  const auto base = base_of(rest);
  try {
    if (!base->solve(study_, rest, by_airs_)) return std::nullopt;
    return by_airs_ ? in_climate(*base, variant) : beside(*base, variant);
  } catch (const InputErrors&) {
  } catch (const ModelError&) {
  } catch (const SolverError&) {
  }
  return std::nullopt;  // solved by itself, it says why
}

std::optional<std::vector<double>> Reuse::in_climate(const Base& base, const Variant& variant) const {
  const auto airs =
      airs_of(variant, base.c.units, {base.c.air.inside.temperature, base.c.air.outside.temperature});
  if (!airs) return std::nullopt;
  std::vector<Results> built;
  std::vector<std::optional<Results>> right(base.climates.size());
  for (std::size_t s = 0; s < base.climates.size(); ++s) {
    std::optional<Results> r = base.climates[s]->in(*airs);
    if (!r) return std::nullopt;
    built.push_back(std::move(*r));
    if (!base.climates_right[s]) continue;
    right[s] = base.climates_right[s]->in(*airs);
    if (!right[s]) return std::nullopt;
  }
  return numbers_of(study_.study.keep, built, right);
}

std::optional<std::vector<double>> Reuse::beside(Base& base, const Variant& variant) const {
  const bool with_right = keeps_right(study_.study.keep);
  const Case c = case_of(study_, variant, {with_right, false, false, false});
  if (!same_airs(c.air, base.c.air)) return std::nullopt;
  std::vector<Results> built;
  std::vector<std::optional<Results>> right(c.sections.size());
  for (std::size_t s = 0; s < c.sections.size(); ++s) {
    std::optional<Results> r = base.built[s]->like(c.sections[s]);
    if (!r) return std::nullopt;
    built.push_back(std::move(*r));
    if (!with_right || s >= c.right.size() || !c.right[s]) continue;
    right[s] = (base.right[s] ? base.right[s] : base.built[s])->like(*c.right[s]);
    if (!right[s]) return std::nullopt;
  }
  return numbers_of(study_.study.keep, built, right);
}

}  // namespace coldbay
