#pragma once

#include <functional>

#include "geometry/axis.hpp"

namespace coldbay {

/// f(0) ... f(n - 1) in any order, on as many threads as the machine gives (or `most_threads` allows).
/// Whoever calls sees to it that no f reads what another writes, so that the result is the same to
/// the last bit on any number of threads. `work` is about how many cells are touched: below some thousands,
/// or while another call runs, this thread does it all.
///
/// What an f throws is thrown here, when all the others have ended.
///
/// This thread never waits for one that has not begun: on a machine that is busy with other things it simply
/// does more of the work itself.
void in_parallel(Index n, Index work, const std::function<void(Index)>& f);

/// The threads that in_parallel may use, this one among them; for all calls from now on.
void most_threads(int n);

}  // namespace coldbay
