#include "solver/results/camera.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <utility>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

/// A share of something in one row or column of the face.
struct Weight {
  Index cell;
  double share;
};

/// The mean over [from, to] of what is linear between the middles of the cells of an axis, and stays beyond
/// the outermost, as weights of the cells: between two middles the mean is the value halfway.
std::vector<Weight> mean_over(const Axis& axis, double from, double to) {
  std::vector<Weight> weights;
  const auto add = [&](Index cell, double share) {
    if (!weights.empty() && weights.back().cell == cell)
      weights.back().share += share;
    else
      weights.push_back({cell, share});
  };
  Index cell = axis.cell_at(from);
  if (from < axis.centre(cell)) --cell;  // the stretch between the middles of `cell` and of the next
  const Index last = axis.cells() - 1;
  for (double x = from; x < to; ++cell) {
    const double end = cell == last ? to : std::min(to, axis.centre(cell + 1));
    const double part = (end - x) / (to - from);
    if (cell < 0 || cell == last) {
      add(std::max<Index>(cell, 0), part);
    } else {
      const double width = axis.centre(cell + 1) - axis.centre(cell);
      const double next = std::clamp((0.5 * (x + end) - axis.centre(cell)) / width, 0.0, 1.0);
      add(cell, part * (1.0 - next));
      add(cell + 1, part * next);
    }
    x = end;
  }
  return weights;
}

/// What every pixel of a row or column sees of an axis; nothing where its middle lies past the wall.
std::vector<std::vector<Weight>> means_of_pixels(const Axis& axis, Span seen, int pixels) {
  std::vector<std::vector<Weight>> all(static_cast<std::size_t>(pixels));
  const double first = axis.edges().front(), last = axis.edges().back(), size = seen.length() / pixels;
  for (int i = 0; i < pixels; ++i) {
    const double from = seen.from + size * i, to = seen.from + size * (i + 1), middle = 0.5 * (from + to);
    if (middle >= first && middle <= last)
      all[static_cast<std::size_t>(i)] = mean_over(axis, std::max(from, first), std::min(to, last));
  }
  return all;
}

/// Radiance of the face, cell by cell.
std::vector<double> radiances(const FaceMap& face, const Camera& camera, double room) {
  const double mirrored = (1.0 - camera.emissivity) * radiance(camera.reflected.value_or(room), camera.band);
  std::vector<double> out;
  out.reserve(face.celsius.size());
  for (const double celsius : face.celsius)
    out.push_back(camera.emissivity * radiance(celsius, camera.band) + mirrored);
  return out;
}

/// Half of a Gaussian on the pixels, from its middle on to four standard deviations.
std::vector<double> half_gaussian(double deviation) {
  std::vector<double> g{1.0};
  for (int i = 1; deviation > 0.0 && i <= 4.0 * deviation; ++i)
    g.push_back(std::exp(-0.5 * (i / deviation) * (i / deviation)));
  return g;
}

/// Rows (or columns) of an image convolved with a Gaussian. What lies outside counts as 0.
void convolve(std::vector<double>& image, int along, int lines, int step, int next_line,
              const std::vector<double>& half) {
  const Index reach = std::ssize(half) - 1;
  std::vector<double> line(static_cast<std::size_t>(along + 2 * reach), 0.0);
  for (int l = 0; l < lines; ++l) {
    double* const at = image.data() + static_cast<Index>(l) * next_line;
    for (int i = 0; i < along; ++i)
      line[static_cast<std::size_t>(i + reach)] = at[static_cast<Index>(i) * step];
    for (int i = 0; i < along; ++i) {
      const double* const here = line.data() + i + reach;
      double sum = half[0] * here[0];
      for (Index o = 1; o <= reach; ++o) sum += half[static_cast<std::size_t>(o)] * (here[-o] + here[o]);
      at[static_cast<Index>(i) * step] = sum;
    }
  }
}

/// Radiance blurred, NaN where it was.
void blur(std::vector<double>& image, int columns, int rows, double deviation) {
  const std::vector<double> half = half_gaussian(deviation);
  if (half.size() == 1) return;
  std::vector<double> counted(image.size());  // how much of the Gaussian lies on the wall
  for (std::size_t i = 0; i < image.size(); ++i) {
    counted[i] = std::isnan(image[i]) ? 0.0 : 1.0;
    if (std::isnan(image[i])) image[i] = 0.0;
  }
  const std::vector<double> seen = counted;
  for (std::vector<double>* one : {&image, &counted}) {
    convolve(*one, columns, rows, 1, columns, half);
    convolve(*one, rows, columns, columns, 1, half);
  }
  for (std::size_t i = 0; i < image.size(); ++i) image[i] = seen[i] > 0.0 ? image[i] / counted[i] : nothing;
}

/// Normal numbers, two at a time, from bits that every platform draws alike.
class NormalNumbers {
 public:
  explicit NormalNumbers(std::uint64_t seed) : bits_(seed) {}

  double next() {
    if (std::isnan(kept_)) {
      const double size = std::sqrt(-2.0 * std::log(above_zero())),
                   angle = 2.0 * std::numbers::pi * above_zero();
      kept_ = size * std::sin(angle);
      return size * std::cos(angle);
    }
    return std::exchange(kept_, nothing);
  }

 private:
  /// From (0, 1], in steps of 2^-53.
  double above_zero() { return static_cast<double>((bits_() >> 11) + 1) * 0x1p-53; }

  std::mt19937_64 bits_;
  double kept_ = nothing;
};

}  // namespace

void require_camera(const Camera& camera) {
  std::vector<Problem> problems;
  const auto ask = [&](bool well, const char* key, std::string what) {
    if (!well) problems.push_back({fmt::format("camera.{}", key), std::move(what), ""});
  };
  const auto finite_from_0 = [](double x) { return std::isfinite(x) && x >= 0.0; };
  ask(camera.columns >= 1 && camera.rows >= 1 && camera.columns <= most_pixels / camera.rows, "pixels",
      fmt::format("a camera has from one pixel to {}", most_pixels));
  ask(camera.field_of_view > 0.0 && camera.field_of_view < std::numbers::pi, "field of view",
      "a field of view lies between 0 and 180 degrees");
  ask(std::isfinite(camera.distance) && camera.distance > 0.0, "distance",
      "a camera stands some way before the wall");
  ask(finite_from_0(camera.noise), "noise", "noise is 0 K or more");
  ask(finite_from_0(camera.blur) && camera.blur <= most_blur, "blur",
      fmt::format("blur is from 0 to {} pixels", most_blur));
  ask(camera.emissivity > 0.0 && camera.emissivity <= 1.0, "emissivity",
      "an emissivity lies above 0 and is 1 at most");
  ask(!camera.reflected || std::isfinite(*camera.reflected), "reflected",
      "what is reflected has a temperature");
  if (!problems.empty()) throw ModelError(std::move(problems));
}

View view_of(const Camera& camera, Span across, Span up, std::optional<FacePoint> aim) {
  require_camera(camera);
  const FacePoint at = aim.value_or(FacePoint{0.5 * (across.from + across.to), 0.5 * (up.from + up.to)});
  const double slope = std::tan(0.5 * camera.field_of_view);  // of the picture's edge
  View view;
  view.pixel = 2.0 * camera.distance * slope / camera.columns;
  const double half_width = 0.5 * view.pixel * camera.columns, half_height = 0.5 * view.pixel * camera.rows;
  view.across = {at.across - half_width, at.across + half_width};
  view.up = {at.up - half_height, at.up + half_height};
  const double right = across.to - at.across, left = at.across - across.from, above = up.to - at.up,
               below = at.up - up.from;
  const double height_slope = slope * camera.rows / camera.columns;
  view.whole_wall_from = std::max(std::max(left, right) / slope, std::max(above, below) / height_slope);
  // Rounding must not decide of a camera that stands just where it should.
  view.whole_wall = camera.distance >= view.whole_wall_from * (1.0 - 1e-9);
  const double furthest_across = std::min(half_width, std::max(left, right)),
               furthest_up = std::min(half_height, std::max(above, below));
  view.largest_angle = std::atan(std::hypot(furthest_across, furthest_up) / camera.distance);
  return view;
}

Image ideal(const FaceMap& face, const Camera& camera, double room, std::optional<FacePoint> aim) {
  const auto whole = [](const Axis& axis) { return Span{axis.edges().front(), axis.edges().back()}; };
  const View view = view_of(camera, whole(face.across), whole(face.up), aim);
  const std::vector<double> rays = radiances(face, camera, room);
  const auto columns = means_of_pixels(face.across, view.across, camera.columns),
             rows = means_of_pixels(face.up, view.up, camera.rows);
  Image image{camera.columns, camera.rows, view.across, view.up, {}};
  image.celsius.reserve(static_cast<std::size_t>(camera.columns) * static_cast<std::size_t>(camera.rows));
  std::vector<double> row_mean(static_cast<std::size_t>(face.across.cells()));
  for (const auto& row : rows) {
    std::fill(row_mean.begin(), row_mean.end(), 0.0);
    for (const Weight& w : row)
      for (std::size_t i = 0; i < row_mean.size(); ++i)
        row_mean[i] += w.share * rays[i + row_mean.size() * static_cast<std::size_t>(w.cell)];
    for (const auto& column : columns) {
      double mean = row.empty() || column.empty() ? nothing : 0.0;
      for (const Weight& w : column) mean += w.share * row_mean[static_cast<std::size_t>(w.cell)];
      image.celsius.push_back(radiant_temperature(mean, camera.band));
    }
  }
  return image;
}

Image recorded(const Image& ideal, const Camera& camera) {
  require_camera(camera);
  Image image = ideal;
  if (camera.blur == 0.0 && camera.noise == 0.0) return image;
  for (double& pixel : image.celsius)
    if (!std::isnan(pixel)) pixel = radiance(pixel, camera.band);
  blur(image.celsius, image.columns, image.rows, camera.blur);
  const double deviation = camera.noise * radiance_slope(30.0, camera.band);
  NormalNumbers normal(camera.seed);
  for (double& pixel : image.celsius) {
    const double drawn = deviation > 0.0 ? deviation * normal.next() : 0.0;  // for pixels past the wall, too
    // Less than nothing cannot be read: the sensor's floor is absolute zero.
    if (!std::isnan(pixel)) pixel = radiant_temperature(std::max(0.0, pixel + drawn), camera.band);
  }
  return image;
}

}  // namespace coldbay
