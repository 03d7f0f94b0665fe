#pragma once

#include <string>

#include "tools/report/outlook.hpp"

namespace coldbay {

/// What is normal on this wall, at one difference from inside to outside [K]: "sound studs read 0.9 K colder
/// than the bays beside them, and the plates 1.1 K colder". Words follow the sign; empty where nothing is
/// known.
std::string normal_text(const NormalPattern& normal, double difference, UnitSystem units);

/// The whole outlook as a person reads it: what is normal, the camera, fault by fault how cold it must be,
/// the mornings of the weather file, and what none of it knows.
std::string outlook_text(const Outlook& outlook);

/// The mornings alone.
std::string mornings_text(const Outlook& outlook);

}  // namespace coldbay
