#pragma once

#include <stdexcept>

namespace coldbay {

/// Thrown where a solve does not reach what was asked of it. Nothing half-solved is ever returned.
class SolverError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace coldbay
