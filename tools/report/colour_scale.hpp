#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tools/report/canvas.hpp"
#include "tools/report/section_picture.hpp"

namespace coldbay {

/// Round values along an axis, in its unit, and how many decimals tell them apart.
struct Ticks {
  std::vector<double> values;
  double step = 1.0;
  int decimals = 0;
};

/// The multiples of 1, 2 or 5 times a power of ten between two values: as near to between `fewest`
/// and `most` of them as such steps allow.
Ticks round_ticks(double from, double to, int fewest, int most);

/// The same along a length, from 0: inches are halved and doubled and keep to the 16 and 48 inches
/// that frames are built by.
Ticks length_ticks(double metres, LengthUnit unit, int most);

/// The same along a stretch that need not begin at 0.
Ticks length_ticks(const Span& stretch, LengthUnit unit, int most);

/// The longest round length [m] of at most `metres`: 1, 2 or 5 times a power of ten millimetres, or
/// of the inches above.
double round_length(double metres, LengthUnit unit);

/// The colours of a scale and the labelled steps on it.
///
/// A scale without extent (a uniform field) is opened by half a kelvin either way, so that the field
/// takes the middle colour.
class ColourScale {
 public:
  ColourScale(const TemperatureScale& scale, const PictureStyle& style);

  /// Of differences, from `-end` to `end` [K], in plumb: what is said of degC here is then said of K.
  static ColourScale of_differences(double end, std::string stamp, const PictureStyle& style);

  double coldest() const { return coldest_; }
  double warmest() const { return warmest_; }
  double span() const { return warmest_ - coldest_; }

  /// Place on the scale: 0 at its coldest end, 1 at its warmest, not clamped.
  double place(double celsius) const { return (celsius - coldest_) / span(); }
  Rgb colour(double celsius) const;

  /// Beyond either end by more than the eye could tell: -1 colder, +1 warmer, 0 on the scale.
  int beyond(double celsius) const;

  const Ticks& ticks() const { return ticks_; }                  ///< in the unit of the picture
  const std::vector<double>& levels() const { return levels_; }  ///< the same, in degC
  const PictureStyle& style() const { return style_; }
  std::string_view unit() const;  ///< "°C", "K"
  const std::string& stamp() const { return stamp_; }
  bool is_of_differences() const { return differences_; }

  /// A value of the scale as the picture prints it: "16.3 °C", "+1.2 K".
  std::string text(double value, int decimals) const;
  /// The same without the unit.
  std::string number(double value, int decimals) const;

  /// Which temperatures the scale runs between, and its stamp.
  std::string words() const;

 private:
  ColourScale(double coldest, double warmest, std::string stamp, const PictureStyle& style, bool differences);

  double coldest_ = 0.0;
  double warmest_ = 1.0;
  bool differences_ = false;
  std::string stamp_;
  PictureStyle style_;
  std::vector<Rgb> ramp_;
  Ticks ticks_;
  std::vector<double> levels_;
};

/// The scale as a bar, cold on the left, with its ticks labelled below and the unit behind them.
/// Takes `bar_below` pixels under the bar.
inline constexpr double bar_below = 30.0;
void draw_bar_across(Picture& picture, const ColourScale& scale, const Box& bar);

/// The scale as a bar, cold at the bottom, with its ticks labelled on the right.
void draw_bar_upright(Picture& picture, const ColourScale& scale, const Box& bar);

}  // namespace coldbay
