#include "tools/input/heating_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <string>
#include <utility>

namespace coldbay {
namespace {

/// What energy is sold by.
struct EnergyUnit {
  std::string_view name;
  double joules;
};
constexpr std::array energy_units{EnergyUnit{"kWh", 3.6e6},
                                  EnergyUnit{"MWh", 3.6e9},
                                  EnergyUnit{"MJ", 1e6},
                                  EnergyUnit{"GJ", 1e9},
                                  EnergyUnit{"therm", 1e5 * joules_per_btu},
                                  EnergyUnit{"MMBtu", 1e6 * joules_per_btu},
                                  EnergyUnit{"kBtu", 1e3 * joules_per_btu}};

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

bool same_letters(std::string_view a, std::string_view b) {
  const auto low = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [&](char x, char y) { return low(x) == low(y); });
}

/// The longest currency [bytes]: a word, not a sentence.
constexpr std::size_t longest_currency = 12;

}  // namespace

std::variant<HeatingSeason::Price, std::string> parse_price(std::string_view text) {
  constexpr std::string_view example = "a price such as $0.14/kWh or 0.30 EUR/kWh";
  const std::string wrong = fmt::format("'{}' is not {}", shortened(std::string(text)), example);
  std::size_t slash = text.rfind('/'), behind = slash + 1;
  if (slash == std::string_view::npos) {
    slash = text.rfind(" per ");
    behind = slash + 5;
  }
  if (slash == std::string_view::npos) return wrong;
  const std::string_view unit = trimmed(text.substr(behind)), money = trimmed(text.substr(0, slash));
  const auto known = std::find_if(energy_units.begin(), energy_units.end(),
                                  [&](const EnergyUnit& u) { return same_letters(u.name, unit); });
  if (known == energy_units.end())
    return fmt::format("the unit '{}' of energy is not known: write kWh, MWh, MJ, GJ, therm, kBtu or MMBtu",
                       shortened(std::string(unit)));
  const std::size_t from = money.find_first_of("0123456789."), end = money.find_last_of("0123456789.");
  if (from == std::string_view::npos) return wrong;
  double amount = 0.0;
  const char* last = money.data() + end + 1;
  const auto [stopped, error] = std::from_chars(money.data() + from, last, amount);
  const std::string_view before = trimmed(money.substr(0, from)), after = trimmed(money.substr(end + 1));
  if (money.find(',') != std::string_view::npos)
    return fmt::format("'{}': write the decimals after a point", shortened(std::string(text)));
  if (error != std::errc() || stopped != last || before.empty() == after.empty() ||
      std::max(before.size(), after.size()) > longest_currency || before == "-")
    return wrong;
  HeatingSeason::Price price;
  price.per_joule = amount / known->joules;
  price.currency_first = after.empty();
  price.currency = std::string(price.currency_first ? before : after);
  price.energy_unit = known->joules;
  price.energy_name = std::string(known->name);
  price.text = std::string(trimmed(text));
  return price;
}

HeatingSeason read_heating(const Node& node, Reading& in) {
  HeatingSeason season;
  const Fields fields(node, "a heating season", {"degree days", "price", "efficiency"}, in);
  if (const Node* days = fields.required("degree days")) {
    season.degree_seconds = read_quantity(*days, Quantity::degree_time, in).value_or(unread);
    season.degree_days = days->text;
    if (unit_of(days->text).empty())
      season.degree_days += in.system == UnitSystem::metric ? " K day" : " °F day";
  }
  if (const Node* price = fields.optional("price")) {
    const auto text = read_text(*price, "a price", in);
    if (text) {
      auto parsed = parse_price(*text);
      if (const auto* wrong = std::get_if<std::string>(&parsed))
        in.error(price->where, *wrong);
      else
        season.price = std::get<HeatingSeason::Price>(std::move(parsed));
    }
  }
  if (const Node* efficiency = fields.optional("efficiency")) {
    // A heat pump gives three times what it takes and more; ten times is a slip.
    const auto parsed = parse_quantity(
        efficiency->text, efficiency->text.ends_with('%') ? Quantity::fraction : Quantity::number, in.system);
    const double share = std::holds_alternative<double>(parsed) ? std::get<double>(parsed) : unread;
    if (!(share >= 0.1 && share <= 10.0))
      in.error(efficiency->where, "heating makes 10 % to 1000 % of what it takes",
               "write 90 % for a boiler, 3 for a heat pump");
    season.efficiency = share;
  }
  return season;
}

}  // namespace coldbay
