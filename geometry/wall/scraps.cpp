#include "geometry/wall/scraps.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <random>
#include <utility>

namespace coldbay {
namespace {

/// Numbers from 0 to 1, the same on every machine (the library's distributions are not).
class Draw {
 public:
  explicit Draw(std::uint64_t seed) : bits_(seed) {}
  double operator()() { return static_cast<double>(bits_() >> 11) * 0x1p-53; }

 private:
  std::mt19937_64 bits_;
};

/// Planes that part a stretch into pieces of about `size`, each moved by up to a quarter of it.
std::vector<double> planes(Span s, double size, Draw& draw) {
  const int n = std::max(1, static_cast<int>(std::lround(s.length() / size)));
  std::vector<double> at{s.from};
  for (int i = 1; i < n; ++i) at.push_back(s.from + s.length() * (i + 0.5 * (draw() - 0.5)) / n);
  at.push_back(s.to);
  return at;
}

struct Lump {
  Region at;
  double volume = 0.0, density = 0.0;  ///< density over the label's; 0: a pocket
};

std::vector<Lump> lumps_between_planes(const Region& at, double size, Draw& draw) {
  const std::vector<double> x = planes(at.across, size, draw), z = planes(at.up, 2.0 * size, draw),
                            y = planes(at.depth, size, draw);
  std::vector<Lump> lumps;
  for (std::size_t k = 0; k + 1 < z.size(); ++k)
    for (std::size_t j = 0; j + 1 < y.size(); ++j)
      for (std::size_t i = 0; i + 1 < x.size(); ++i) {
        Lump lump{{{x[i], x[i + 1]}, {z[k], z[k + 1]}, {y[j], y[j + 1]}}, 0.0, 0.0};
        lump.volume = lump.at.across.length() * lump.at.up.length() * lump.at.depth.length();
        lump.density = 1.0 + lump_spread * (2.0 * draw() - 1.0);
        lumps.push_back(lump);
      }
  return lumps;
}

}  // namespace

void add_scraps(const Scraps& scraps, const Laid& laid, const Material& air, const std::string& path,
                std::vector<Piece>& pieces) {
  Draw draw(scraps.seed);
  std::vector<Lump> lumps = lumps_between_planes(laid.at, scraps.lump, draw);
  const double volume = laid.at.across.length() * laid.at.up.length() * laid.at.depth.length();

  // Pockets: lumps in random order, as long as they do not make more than their share.
  std::vector<std::size_t> order(lumps.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (std::size_t i = order.size(); i > 1; --i)
    std::swap(order[i - 1], order[static_cast<std::size_t>(draw() * static_cast<double>(i))]);
  double pockets = 0.0;
  for (const std::size_t i : order) {
    if (pockets + lumps[i].volume > scraps.pockets * volume) continue;
    pockets += lumps[i].volume;
    lumps[i].density = 0.0;
  }

  double fibre = 0.0;
  for (const Lump& lump : lumps) fibre += lump.density * lump.volume;
  for (const Lump& lump : lumps) {
    if (lump.density == 0.0) {
      pieces.push_back(block(air, Piece::Role::air, lump.at.across, lump.at.up, lump.at.depth));
    } else {
      const double density = laid.squeezed * lump.density * volume / fibre;
      pieces.push_back(block(fill_material(*laid.fill, density, true), Piece::Role::fill, lump.at.across,
                             lump.at.up, lump.at.depth));
      pieces.back().squeezed = density;
    }
    pieces.back().path = path;
    pieces.back().by_chance = true;
  }
}

}  // namespace coldbay
