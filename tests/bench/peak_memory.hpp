#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace coldbay::bench {

/// Runs this program again with these arguments and returns the number it prints: memory is measured in a
/// process of its own, whose heap has no past to reuse, and where a solver's threads start afresh (they do
/// not survive a fork). Empty where that fails.
std::optional<double> number_from_another_process(const std::vector<std::string>& arguments);

/// How far the memory of this process rises above its present level during f [bytes]: pages touched, whoever
/// asked for them (new, malloc, a library). Empty where the kernel cannot tell.
std::optional<double> peak_rise(const std::function<void()>& f);

}  // namespace coldbay::bench
