#include "solver/parallel.hpp"

#if defined(__wasm__)  // a browser: this thread does it all

namespace coldbay {

void most_threads(int) {}

void in_parallel(Index n, Index, const std::function<void(Index)>& f) {
  for (Index i = 0; i < n; ++i) f(i);
}

}  // namespace coldbay

#else

#include <algorithm>
#include <atomic>
#include <cstdint>
#include <exception>
#include <limits>
#include <mutex>
#include <system_error>
#include <thread>
#include <utility>
#include <vector>

namespace coldbay {
namespace {

constexpr Index worth_a_thread = 20000;  ///< cells; some 10 microseconds of work, what waking a thread takes
/// For new work; some 20 microseconds, the next call is seldom further off.
constexpr int looks_before_sleep = 4000;

/// Threads that help with one call at a time.
///
/// `ticket` holds the number of the call in its upper half and the next f to do in its lower. A helper takes
/// an f by raising the lower half, which fails if meanwhile another call has begun; so one that wakes late
/// finds nothing to do, and nobody has to wait for it.
class Helpers {
 public:
  explicit Helpers(int n) {
    try {
      for (int i = 0; i < n; ++i) threads_.emplace_back([this, i] { help(i); });
    } catch (const std::system_error&) {  // no more threads to be had: fewer, or this one alone
    }
  }
  ~Helpers() {
    stop_ = true;
    ticket_ += call;
    ticket_.notify_all();
    for (std::thread& t : threads_) t.join();
  }
  Helpers(const Helpers&) = delete;
  Helpers& operator=(const Helpers&) = delete;

  bool any() const { return !threads_.empty(); }

  void run(Index n, const std::function<void(Index)>& f, int most_helpers) {
    most_ = most_helpers;
    f_ = &f;
    n_ = n;
    left_ = n;
    const std::uint64_t mine = (ticket_.load() / call + 1) * call;
    ticket_ = mine;
    ticket_.notify_all();
    take(mine, n, f);
    while (left_.load() > 0) std::this_thread::yield();
    ticket_ = mine + (call - 1);  // nothing more to take, whatever n becomes
    if (error_) std::rethrow_exception(std::exchange(error_, nullptr));
  }

 private:
  static constexpr std::uint64_t call = std::uint64_t{1} << 32;

  /// Does what is left of a call.
  void take(std::uint64_t mine, Index n, const std::function<void(Index)>& f) {
    std::uint64_t t = ticket_.load();
    while (t - mine < static_cast<std::uint64_t>(n)) {
      if (!ticket_.compare_exchange_weak(t, t + 1)) continue;
      try {
        f(static_cast<Index>(t - mine));
      } catch (...) {  // memory ran out: tell the caller, once nobody works for it any more
        const std::lock_guard lock(error_mutex_);
        if (!error_) error_ = std::current_exception();
      }
      --left_;
      t = ticket_.load();
    }
  }

  void help(int number) {
    std::uint64_t seen = 0;
    while (true) {
      std::uint64_t t = ticket_.load();
      for (int looks = 0; t / call == seen; t = ticket_.load())
        if (++looks > looks_before_sleep) ticket_.wait(t);
      if (stop_) return;
      seen = t / call;
      if (number >= most_) continue;
      // If that call has ended meanwhile, these may be of the next; but its ticket is no good any more.
      const Index n = n_;
      const std::function<void(Index)>* f = f_;
      take(seen * call, n, *f);
    }
  }

  std::vector<std::thread> threads_;
  std::atomic<std::uint64_t> ticket_{0};
  std::atomic<Index> n_{0}, left_{0};
  std::atomic<int> most_{0};
  std::atomic<const std::function<void(Index)>*> f_{nullptr};
  std::atomic<bool> stop_{false};
  std::mutex error_mutex_;
  std::exception_ptr error_;  ///< the first that an f threw
};

std::atomic<int> allowed{0};  // 0: as many as the machine has

}  // namespace

void most_threads(int n) { allowed = n; }

void in_parallel(Index n, Index work, const std::function<void(Index)>& f) {
  static std::mutex one_call;
  const int most = allowed.load();
  if (n > 1 && work >= worth_a_thread && most != 1 && one_call.try_lock()) {
    const std::lock_guard lock(one_call, std::adopt_lock);
    static Helpers helpers(std::max(1, static_cast<int>(std::thread::hardware_concurrency())) - 1);
    if (helpers.any()) return helpers.run(n, f, most > 0 ? most - 1 : std::numeric_limits<int>::max());
  }
  for (Index i = 0; i < n; ++i) f(i);
}

}  // namespace coldbay

#endif
