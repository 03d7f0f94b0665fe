#pragma once

#include <nlohmann/json_fwd.hpp>

#include "tools/report/outlook.hpp"

namespace coldbay {

/// "outlook": all numbers of the outlook, SI, unrounded; what has no value is null.
nlohmann::ordered_json outlook_json(const Outlook& outlook);

}  // namespace coldbay
