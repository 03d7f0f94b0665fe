#include "tools/report/loop_estimate_json.hpp"

#include <nlohmann/json.hpp>

#include <array>

#include "tools/report/loop_rows.hpp"

namespace coldbay {
namespace {

using Json = nlohmann::ordered_json;

/// In the order of NoLoop.
constexpr std::array<std::string_view, 5> reasons{"touches lining", "touches sheathing", "closed",
                                                  "no difference", "could not be reckoned"};

Json other_json(const OtherGaps& gaps) {
  return {{"u_value_W_per_m2K", gaps.u_loop}, {"u_value_still_W_per_m2K", gaps.u_still}};
}

}  // namespace

Json loop_json(const LoopEstimate& e) {
  Json out = {{"none_because", e.none ? Json(reasons.at(static_cast<std::size_t>(*e.none))) : Json(nullptr)},
              {"u_value_W_per_m2K", e.loop.u_loop},
              {"u_value_still_W_per_m2K", e.loop.u_still},
              {"area_m2", e.area},
              {"extra_heat_W", e.extra_heat},
              {"gap_tolerance_m", e.tolerance},
              {"gaps_narrower", other_json(e.narrower)},
              {"gaps_wider", other_json(e.wider)}};
  if (e.none) return out;
  out["flow_m2_per_s"] = e.loop.flow;
  out["speed_m_per_s"] = e.loop.velocity;
  out["reynolds"] = e.loop.reynolds;
  out["foot_m"] = e.foot ? Json(*e.foot) : Json(nullptr);
  out["method"] = e.by_network ? "network of the bay" : "one loop, exactly";
  out["a_gap_is_wider_than_a_channel"] = e.beyond_channel;
  out["known"] = loop_checked_against;
  return out;
}

}  // namespace coldbay
