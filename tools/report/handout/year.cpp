#include "tools/report/handout/year.hpp"

#include <fmt/core.h>

#include "tools/report/handout/sentences.hpp"

namespace coldbay {
namespace {

/// A sum of money: no cents from a hundred on.
std::string money(double amount, const HeatingSeason::Price& price) {
  const std::string number = amount < 99.5 ? fmt::format("{:.2f}", amount) : two_digits(amount);
  return price.currency_first ? price.currency + number : fmt::format("{} {}", number, price.currency);
}

}  // namespace

std::optional<Year> year_of(const Case& c, double W_per_K) {
  if (!c.heating) return std::nullopt;
  const HeatingSeason& season = *c.heating;
  const double heat = W_per_K * season.degree_seconds;  // [J]
  constexpr double kWh = 3.6e6;
  Year year;
  year.bought = season.efficiency.has_value();
  const double bought = heat / season.efficiency.value_or(1.0);
  year.energy = bought / (season.price ? season.price->energy_unit : kWh);
  year.energy_unit = season.price ? season.price->energy_name : "kWh";
  if (season.efficiency) year.efficiency = fmt::format("{:.0f} %", 100.0 * *season.efficiency);
  if (!season.price) return year;
  year.cost = bought * season.price->per_joule;
  year.cost_text = money(*year.cost, *season.price);
  year.price = season.price->text;
  return year;
}

}  // namespace coldbay
