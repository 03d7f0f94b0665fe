#include "tools/study/chance.hpp"

#include <bit>
#include <cmath>

namespace coldbay {
namespace {

/// What a word of the counter is for, so that shuffling and drawing never use the same random words.
enum Purpose : std::uint32_t { drawing = 0, shuffling = 1 };

std::array<std::uint32_t, 2> key_of(const Stream& stream) {
  return {static_cast<std::uint32_t>(stream.seed), static_cast<std::uint32_t>(stream.seed >> 32)};
}

std::array<std::uint32_t, 4> words_at(const Stream& stream, std::uint64_t i, std::uint32_t purpose) {
  return philox(
      {static_cast<std::uint32_t>(i), static_cast<std::uint32_t>(i >> 32), stream.dimension, purpose},
      key_of(stream));
}

}  // namespace

std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter, std::array<std::uint32_t, 2> key) {
  for (int round = 0; round < 10; ++round) {
    const std::uint64_t first = 0xD2511F53ull * counter[0], second = 0xCD9E8D57ull * counter[2];
    counter = {
        static_cast<std::uint32_t>(second >> 32) ^ counter[1] ^ key[0], static_cast<std::uint32_t>(second),
        static_cast<std::uint32_t>(first >> 32) ^ counter[3] ^ key[1], static_cast<std::uint32_t>(first)};
    key[0] += 0x9E3779B9u;
    key[1] += 0xBB67AE85u;
  }
  return counter;
}

double chance(Stream stream, std::uint64_t i) {
  const auto words = words_at(stream, i, drawing);
  const std::uint64_t bits = (std::uint64_t{words[0]} << 32 | words[1]) >> 12;  // 52, and a half below: exact
  return (static_cast<double>(bits) + 0.5) * 0x1p-52;
}

std::uint64_t shuffled(Stream stream, std::uint64_t i, std::uint64_t n) {
  // At least 8 bits: in fewer there are not enough ways to turn the halves for every order of a short row.
  const int bits = static_cast<int>(std::bit_width(n - 1)), half = bits < 8 ? 4 : (bits + 1) / 2;
  const std::uint64_t mask = (std::uint64_t{1} << half) - 1;
  do {
    std::uint64_t left = i >> half, right = i & mask;
    for (std::uint32_t round = 0; round < 8; ++round) {
      const std::uint64_t turned = words_at(stream, right, shuffling + round)[0] & mask;
      const std::uint64_t next = left ^ turned;
      left = right;
      right = next;
    }
    i = left << half | right;
  } while (i >= n);
  return i;
}

double chance_in_stratum(Stream stream, std::uint64_t i, std::uint64_t n) {
  // 25 bits inside a stratum, so that with the 27 of the largest n nothing is rounded up into the next.
  const double inside = (std::floor(chance(stream, i) * 0x1p24) + 0.5) * 0x1p-24;
  return (static_cast<double>(shuffled(stream, i, n)) + inside) / static_cast<double>(n);
}

}  // namespace coldbay
