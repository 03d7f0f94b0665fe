#pragma once

#include <map>
#include <mutex>
#include <optional>
#include <utility>
#include <vector>

#include "geometry/section.hpp"
#include "solver/forecast.hpp"

namespace coldbay {

/// A section solved as a whole, so that of one that differs from it in a stretch alone no more than that
/// stretch is solved, with so much beside it that the change has died away where it is cut.
///
///     heat   of the whole, and what the stretch, cut out by itself, loses more than when cut out of the
///     whole face   of the stretch; beside it that of the whole, and what the change does there; beyond, that
///     of the
///            whole
///
/// What cutting does is the same in both stretches, so that of the heat it falls out but for what of the
/// change comes to the cut; that is measured there, and counts as uncertain. On the face it is measured as
/// what cutting does to the section that is known as a whole.
class SolvedSection {
 public:
  /// Solves it, better than `accuracy`, to which others are to be known. Throws as forecast() does.
  SolvedSection(Section section, const Surroundings& air, const Accuracy& accuracy);

  /// The results of another section in the same surroundings: heat, U and the face's extremes with what they
  /// are known to: the uncertainty of the face is that of its extremes. Nothing where the two differ too
  /// much, or the accuracy is not reached so. The same bits whatever was asked before, and from any thread.
  /// Throws as forecast() does.
  std::optional<Results> like(const Section& other);

 private:
  struct Ends;
  struct Extremes;
  /// The stretch cut out of this section.
  struct Stretch {
    double heat = 0.0, uncertainty = 0.0;  ///< [W/m]
    SurfaceProfile face;                   ///< moved to where it is in this section
    double surface_uncertainty = 0.0;      ///< [K]
    double by_cutting = 0.0;               ///< of the face of the parts that change [K]
  };
  Stretch cut_out(const Ends& ends) const;
  const Stretch& stretch(const Ends& ends);
  std::optional<Ends> ends_of(const Section& other) const;
  Extremes beyond(const Ends& ends) const;
  Extremes within(const Ends& ends, const Stretch& before, const Results& changed) const;
  /// Both set what is known of the face; the first does so, and returns true, where its coldest place
  /// lies beyond the window for certain: then that place is all that need be known well.
  bool extreme_beyond(const Ends& ends, const Stretch& before, const Results& changed, Results& out) const;
  void extreme_within(const Ends& ends, const Stretch& before, const Results& changed, Results& out) const;
  Accuracy share_of(Span window, double heat, double surface) const;

  Section section_;
  Accuracy accuracy_;
  Surroundings air_;
  Results whole_;
  bool usable_ = false;
  std::vector<double> decay_;                           ///< length of each part [m]
  std::mutex mutex_;                                    ///< over what follows
  std::map<std::pair<double, double>, Stretch> known_;  ///< by where they are cut
};

}  // namespace coldbay
