#include "tools/report/handout/sentences.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "solver/results/survey_rules.hpp"
#include "tools/case_camera.hpp"
#include "tools/report/amounts.hpp"
#include "tools/report/handout/year.hpp"

namespace coldbay {
namespace {

std::string fine_difference(double kelvin, UnitSystem u) {
  const bool metric = u == UnitSystem::metric;
  const double number = std::abs(metric ? kelvin : 1.8 * kelvin);
  return fmt::format("{:.{}f} {}", number, number < 0.995 ? 2 : 1, metric ? "K" : "°F");
}

/// How sure a face is over a stretch [K]: its parts are known one by one.
double uncertainty_on(const WallFace& face, Span across) {
  double most = 0.0;
  for (const KnownPart& part : face.parts)
    if (part.own.from < across.to && across.from < part.own.to) most = std::max(most, part.uncertainty);
  return most;
}

/// How sure the difference of both faces is over the bay of a page [K].
double surface_uncertainty(const HandoutWall& wall, const FaultPage& page) {
  const Span across = wall.faces.wall.bays[page.bays.front()].across;
  return uncertainty_on(wall.faces.built, across) +
         (wall.faces.right ? uncertainty_on(*wall.faces.right, across) : 0.0);
}

bool heat_is_sure(const FaultPage& page) {
  return page.cost && std::abs(page.cost->extra) > page.cost->uncertainty;
}

/// A sentence begins with a capital; of the letters that our own words begin with.
std::string begun(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string bay_name(std::size_t bay, const Words& words) {
  return said(words, "page.bay", {{"number", std::to_string(bay + 1)}});
}

std::string heat_amount(const BayCost& cost, UnitSystem u) {
  const std::string with_unit = per_kelvin_text(cost.extra, u), within = per_kelvin_text(cost.uncertainty, u);
  const std::size_t space = with_unit.find(' ');
  return fmt::format("{} ± {}{}", with_unit.substr(0, space), within.substr(0, within.find(' ')),
                     with_unit.substr(space));
}

std::string loop_of(const HandoutWall& wall, const FaultPage& page, const Words& words) {
  const auto& loops = wall.faces.loops;
  const std::size_t bay = page.bays.front();
  if (bay >= loops.size() || !loops[bay] || loops[bay]->none) return {};
  return said(words, wall.c.air.gaps == AirInGaps::still ? "page.lower bound" : "page.loop checked");
}

}  // namespace

std::string two_digits(double amount) {
  if (!(std::abs(amount) > 0.0)) return "0";
  const auto power = [](double size) { return static_cast<int>(std::floor(std::log10(std::abs(size)))); };
  const double step = std::pow(10.0, power(amount) - 1), rounded = std::round(amount / step) * step;
  constexpr double carried = 1.0 + 1e-9;  // 9.96 has become 10, and may be 9.9999999999999996
  return fmt::format("{:.{}f}", rounded, std::max(0, 1 - power(rounded * carried)));
}

std::string place_name(const FaultPage& page, const Words& words) {
  if (page.bays.size() == 1) return bay_name(page.bays[0], words);
  std::string first;
  for (std::size_t i = 0; i + 1 < page.bays.size(); ++i)
    first += fmt::format("{}{}", i ? ", " : "", page.bays[i] + 1);
  const std::string list =
      said(words, "page.list and", {{"first", first}, {"last", std::to_string(page.bays.back() + 1)}});
  return said(words, "page.bays", {{"list", list}});
}

std::string fault_names(const FaultPage& page, const Words& words) {
  std::string names;
  for (const Fault f : page.faults) names += (names.empty() ? "" : "; ") + said_of(words, f, "name");
  return begun(names);
}

Headline headline(const HandoutWall& wall, const FaultPage& page, const Words& words) {
  constexpr double worth_telling = 0.01;  // of the bay's heat: below that the face tells more
  const UnitSystem u = wall.c.units;
  const std::string bay = bay_name(page.bays.front(), words);
  if (heat_is_sure(page) && std::abs(page.cost->share) >= worth_telling)
    return {signed_percent(page.cost->share),
            page.bays.size() > 1 ? said(words, "page.number each", {{"bays", place_name(page, words)}})
                                 : said(words, "page.number heat", {{"bay", bay}})};
  if (std::abs(page.furthest.kelvin) > surface_uncertainty(wall, page))
    return {fine_difference(page.furthest.kelvin, u),
            said(words, page.furthest.kelvin < 0.0 ? "page.number colder" : "page.number warmer")};
  return {"± " + fine_difference(surface_uncertainty(wall, page), u), said(words, "page.same")};
}

std::vector<std::string> normal_sentences(const HandoutWall& wall, const Words& words) {
  // Of bays of which nobody knows what is right nothing is normal.
  if (!wall.normal || wall.faces.not_compared.size() == wall.faces.wall.bays.size()) return {};
  const double difference = wall.c.air.inside.temperature - wall.c.air.outside.temperature;
  const UnitSystem u = wall.c.units;
  constexpr double least = 0.05;  // [K]: less is not told apart from nothing
  std::vector<std::string> out;
  const auto tell = [&](std::string_view what, std::string_view value, double per_kelvin) {
    const double kelvin = per_kelvin * difference;
    const char* side = std::abs(kelvin) < least ? "even" : kelvin < 0.0 ? "colder" : "warmer";
    out.push_back(
        said(words, fmt::format("normal.{} {}", what, side), {{value, fine_difference(kelvin, u)}}));
  };
  const NormalPattern& n = *wall.normal;
  if (n.studs) tell("studs", "studs", *n.studs);
  if (plates_told_apart(n, difference)) {
    tell("floor plates", "floor", *n.floor_plates);
    tell("top plates", "top", *n.top_plates);
  } else if (n.plates) {
    tell("plates", "plates", *n.plates);
  }
  if (out.empty()) out.push_back(said(words, "normal.none"));
  return out;
}

std::vector<std::string> sight_sentences(const HandoutWall& wall, const FaultPage& page, const Words& words) {
  std::vector<std::string> out;
  const bool colder = page.furthest.kelvin < 0.0;
  for (const Fault f : page.faults) {
    std::string sentence = said_of(words, f, colder ? "colder" : "warmer");
    if (std::find(out.begin(), out.end(), sentence) == out.end()) out.push_back(std::move(sentence));
  }
  const UnitSystem u = wall.c.units;
  if (std::abs(page.furthest.kelvin) <= surface_uncertainty(wall, page)) {
    out.push_back(begun(said(words, "page.same")) + ".");
  } else {
    out.push_back(said(words, colder ? "page.colder by" : "page.warmer by",
                       {{"across", length_text(page.furthest.across, u)},
                        {"up", length_text(page.furthest.up, u)},
                        {"difference", fine_difference(page.furthest.kelvin, u)}}));
  }
  return out;
}

std::vector<std::string> cost_sentences(const HandoutWall& wall, const FaultPage& page, const Words& words) {
  std::vector<std::string> out;
  const UnitSystem u = wall.c.units;
  if (!page.cost) return {said(words, "page.heat not known")};
  out.push_back(said(words, "page.of its bay",
                     {{"share", signed_percent(page.cost->share)},
                      {"bay", bay_name(page.bays.front(), words)},
                      {"heat", heat_amount(*page.cost, u)}}));
  const double count = static_cast<double>(page.bays.size());
  if (page.bays.size() > 1)
    out.push_back(said(words, "page.together",
                       {{"count", std::to_string(page.bays.size())},
                        {"heat", per_kelvin_text(page.cost->extra * count, u)}}));
  if (std::find(page.faults.begin(), page.faults.end(), Fault::scraps) != page.faults.end())
    out.push_back(said(words, "page.one stuffing"));
  if (!heat_is_sure(page)) {
    out.push_back(begun(said(words, "page.less than sure")) + ".");
  } else if (const auto year = year_of(wall.c, page.cost->extra * count)) {
    const std::string energy = fmt::format("{} {}", two_digits(year->energy), year->energy_unit);
    out.push_back(year->cost ? said(words, "page.a year costs",
                                    {{"energy", energy}, {"cost", year->cost_text}, {"price", year->price}})
                             : said(words, "page.a year", {{"energy", energy}}));
    out.push_back(said(words, year->bought ? "page.year bought" : "page.year by",
                       {{"degree_days", wall.c.heating->degree_days}, {"efficiency", year->efficiency}}));
  }
  for (const Fault f : page.faults) {
    const std::string note = said_of(words, f, "note");
    if (!note.empty()) out.push_back(begun(note) + ".");
  }
  const std::string loop = loop_of(wall, page, words);
  if (!loop.empty()) out.push_back(loop);
  return out;
}

std::vector<std::string> weather_sentences(const HandoutWall& wall, const FaultPage& page,
                                           const Words& words) {
  if (!page.seen) return {said(words, "page.alike")};
  const Visibility& v = *page.seen;
  const UnitSystem u = wall.c.units;
  std::vector<std::string> out;
  switch (v.showing) {
    case Showing::shows: {
      const Camera camera = camera_of(wall.c, wall.faces.built.room);
      const std::string with = said(words, "page.camera",
                                    {{"columns", std::to_string(camera.columns)},
                                     {"rows", std::to_string(camera.rows)},
                                     {"noise", fine_difference(camera.noise, u)},
                                     {"distance", distance_text(camera.distance, u)}});
      out.push_back(
          said(words, "page.seen from", {{"difference", difference_text(v.needed, u)}, {"camera", with}}));
      out.push_back(said(words, v.stands_out ? "page.stands out" : "page.within pattern"));
      break;
    }
    case Showing::too_weak:
      out.push_back(said(words, "page.never"));
      break;
    case Showing::unsure:
      out.push_back(said(words, "page.unsure"));
      break;
    case Showing::too_small:
      if (v.come_within.value_or(0.0) < 0.1)
        out.push_back(said(words, "page.too small"));
      else
        out.push_back(said(words, "page.come within", {{"distance", distance_text(*v.come_within, u)}}));
      break;
  }
  out.push_back(said(words, "page.standard", {{"difference", difference_text(standard_difference, u)}}));
  const bool heating = wall.c.air.inside.temperature >= wall.c.air.outside.temperature;
  out.push_back(said(words, heating ? "page.conditions" : "page.conditions cooling"));
  return out;
}

std::vector<std::string> limit_sentences(const HandoutWall& wall, const FaultPage* page, const Words& words) {
  const bool still = wall.c.air.gaps == AirInGaps::still;
  std::vector<std::string> out{said(words, still ? "page.limits still" : "page.limits")};
  if (page && std::find(page->faults.begin(), page->faults.end(), Fault::box_open) != page->faults.end())
    out.push_back(said(words, "page.ragged"));
  out.push_back(
      said(words, "page.within", {{"within", fine_difference(wall.faces.built.uncertainty, wall.c.units)}}));
  return out;
}

std::string heat_cell(const HandoutWall& wall, const FaultPage& page, const Words& words) {
  if (!page.cost) return {};
  if (!heat_is_sure(page)) return said(words, "page.cell same");
  return fmt::format("{}, {}", signed_percent(page.cost->share),
                     per_kelvin_text(page.cost->extra * static_cast<double>(page.bays.size()), wall.c.units));
}

std::string surface_cell(const HandoutWall& wall, const FaultPage& page, const Words& words) {
  if (std::abs(page.furthest.kelvin) <= surface_uncertainty(wall, page)) return said(words, "page.cell same");
  return said(words, page.furthest.kelvin < 0.0 ? "page.cell colder" : "page.cell warmer",
              {{"difference", fine_difference(page.furthest.kelvin, wall.c.units)}});
}

std::string year_cell(const HandoutWall& wall, const FaultPage& page) {
  if (!page.cost || !heat_is_sure(page)) return {};
  const auto year = year_of(wall.c, page.cost->extra * static_cast<double>(page.bays.size()));
  if (!year) return {};
  return fmt::format("{} {}{}", two_digits(year->energy), year->energy_unit,
                     year->cost ? ", " + year->cost_text : "");
}

}  // namespace coldbay
