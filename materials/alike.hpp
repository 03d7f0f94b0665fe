#pragma once

#include <optional>

#include "materials/material.hpp"

namespace coldbay {

/// Equal but for rounding of sums of widths, from which a batt has its density; both empty is equal too.
bool nearly(double a, double b);
bool nearly(const std::optional<double>& a, const std::optional<double>& b);

/// The same material to a solve in still air: names and sources do not conduct, nor do heat capacities in a
/// steady state. What it does to air that is driven through it is left out.
bool conduct_alike(const Material& a, const Material& b);

}  // namespace coldbay
