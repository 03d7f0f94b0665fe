// Stands in for peer_hypre.cpp where CMake did not find hypre.

#include "tests/bench/peers.hpp"

namespace coldbay::bench {

bool have_hypre() { return false; }

std::function<Outcome()> hypre(HypreMultigrid, const LinearSystem&, const ConductivityGrid&) { return {}; }

}  // namespace coldbay::bench
