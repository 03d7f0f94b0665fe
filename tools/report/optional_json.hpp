#pragma once

#include <nlohmann/json.hpp>
#include <optional>

namespace coldbay {

/// The value, or null where there is none.
template <class T>
nlohmann::ordered_json optional_json(const std::optional<T>& value) {
  return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json(nullptr);
}

}  // namespace coldbay
