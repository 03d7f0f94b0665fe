#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <charconv>
#include <chrono>
#include <condition_variable>
#include <cstdio>
#include <exception>
#include <functional>
#include <mutex>
#include <thread>
#include <utility>

#include "materials/model_error.hpp"
#include "solver/parallel.hpp"
#include "solver/solver_error.hpp"
#include "tools/report/result_json.hpp"
#include "tools/study/command.hpp"
#include "tools/study/folder.hpp"
#include "tools/study/kept.hpp"
#include "tools/study/opened.hpp"
#include "tools/study/progress.hpp"
#include "tools/study/results.hpp"
#include "tools/study/reuse.hpp"
#include "tools/study/rows.hpp"
#include "tools/study/variant_solver.hpp"

namespace coldbay {
namespace {

/// Solves one variant; what goes wrong with it is part of its row.
std::string solved_row(const OpenStudy& s, Reuse& reuse, VariantSolver& solver, std::uint64_t id) {
  const Variant variant = variant_at(s.study, s.varied, id);
  std::vector<double> kept;
  std::string failed;
  try {
    auto reused = reuse.solve(variant);
    kept = reused ? std::move(*reused) : solver.solve(variant);
    put_in_units(kept, s.study.keep, s.sections.size(), s.units);
  } catch (const InputErrors& e) {
    failed = e.errors().front().title;
  } catch (const ModelError& e) {
    failed = e.what();
  } catch (const SolverError& e) {
    failed = e.what();
  }
  return row_line(id, s.varied, variant.cells, kept, s.kept.size(), harmless(failed));
}

/// The workers, and what they share.
class Crew {
 public:
  Crew(const OpenStudy& study, const RowIndex& done, const StudyWishes& wishes, Journal& journal)
      : study_(study), done_(done), wishes_(wishes), journal_(journal) {}

  bool asked_for(std::uint64_t id) const {
    if (wishes_.only) return id == *wishes_.only;
    return id % wishes_.share.of == wishes_.share.part - 1 && !done_.has(id);
  }

  void prepare() { reuse_.prepare(); }

  /// Solves all that is asked for and not there. Rethrows what stopped it.
  void work(unsigned jobs, std::uint64_t total) {
    StudyProgress progress(total);
    std::vector<std::thread> threads;
    threads.reserve(jobs);
    for (unsigned j = 0; j < jobs; ++j) threads.emplace_back([this] { solve_on(); });
    {
      std::unique_lock lock(mutex_);
      constexpr std::chrono::milliseconds look_every{200};
      while (!ended_.wait_for(lock, look_every, [&] { return solved_ == total || error_; })) {
        const std::uint64_t solved = solved_, failed = failed_;
        lock.unlock();
        progress.tell(solved, failed);
        lock.lock();
      }
    }
    for (std::thread& t : threads) t.join();
    progress.end(solved_, failed_);
    if (error_) std::rethrow_exception(error_);
    journal_.sync();
  }

 private:
  void solve_on() {
    try {
      VariantSolver solver(study_);
      while (!stop_) {
        const std::uint64_t id = next_++;
        if (id >= study_.n) return;
        if (!asked_for(id)) continue;
        const std::string row = solved_row(study_, reuse_, solver, id);
        const std::lock_guard lock(mutex_);
        if (stop_) return;
        journal_.add(row);
        sync_now_and_then();
        ++solved_;
        failed_ += has_failed(row) ? 1 : 0;
        ended_.notify_one();
      }
    } catch (...) {
      const std::lock_guard lock(mutex_);
      stop_ = true;
      if (!error_) error_ = std::current_exception();
      ended_.notify_one();
    }
  }

  void sync_now_and_then() {
    constexpr std::chrono::seconds every{5};
    const auto now = std::chrono::steady_clock::now();
    if (now - synced_ < every) return;
    journal_.sync();
    synced_ = now;
  }

  const OpenStudy& study_;
  Reuse reuse_{study_};
  const RowIndex& done_;
  const StudyWishes& wishes_;
  Journal& journal_;
  std::atomic<std::uint64_t> next_{0};
  std::atomic<bool> stop_{false};
  std::mutex mutex_;  ///< over all below
  std::condition_variable ended_;
  std::uint64_t solved_ = 0, failed_ = 0;
  std::chrono::steady_clock::time_point synced_ = std::chrono::steady_clock::now();
  std::exception_ptr error_;
};

StudyCard card_of(const OpenStudy& s) {
  StudyCard card{s.study.title, version(), s.inputs, s.n, s.varied};
  card.columns.insert(card.columns.end(), s.kept.begin(), s.kept.end());
  return card;
}

}  // namespace

std::optional<Share> read_share(const std::string& text) {
  Share share;
  const char* end = text.data() + text.size();
  const auto part = std::from_chars(text.data(), end, share.part);
  if (part.ec != std::errc() || part.ptr == end || *part.ptr != '/') return std::nullopt;
  const auto of = std::from_chars(part.ptr + 1, end, share.of);
  if (of.ec != std::errc() || of.ptr != end || share.part < 1 || share.part > share.of) return std::nullopt;
  return share;
}

int run_study(const StudyWishes& wishes, const MaterialsFile& materials) {
  // 1. Read the study, and what is solved already.
  const auto s = open_study(wishes.file, materials);
  if (!s) return 3;
  if (wishes.only && *wishes.only >= s->n) {
    fmt::print(stderr, "there is no variant {}: they are counted from 0 to {}\n", *wishes.only, s->n - 1);
    return 2;
  }
  const StudyCard card = card_of(*s);
  open_folder(wishes.out, card);
  RowIndex done(s->n);
  done.add_folder(wishes.out);

  // 2. Solve what is missing, each variant on one thread.
  Journal journal(wishes.out);
  Crew crew(*s, done, wishes, journal);
  std::uint64_t total = 0;
  if (wishes.only)
    total = done.has(*wishes.only) ? 0 : 1;
  else
    for (std::uint64_t id = 0; id < s->n; ++id) total += crew.asked_for(id) ? 1 : 0;
  if (total > 0) {
    crew.prepare();
    most_threads(1);
    const unsigned processors = std::max(1u, std::thread::hardware_concurrency());
    const std::uint64_t jobs = std::min<std::uint64_t>(wishes.jobs > 0 ? wishes.jobs : processors, total);
    crew.work(static_cast<unsigned>(jobs), total);
  }

  // 3. All rows in order, and what is to be said of them.
  return tell_results(wishes.out, card, wishes.only || wishes.share.of > 1);
}

}  // namespace coldbay
