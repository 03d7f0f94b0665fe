#pragma once

#include <array>
#include <cstdint>

namespace coldbay {

/// Four random words for a place of a sequence: Philox with four words of 32 bits and ten rounds
/// [Salmon2011]. Any place of any sequence is had by itself, so that one draw of a study is the same
/// whoever makes it, and in whatever order.
std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter, std::array<std::uint32_t, 2> key);

/// What keeps the random numbers of a study apart.
struct Stream {
  std::uint64_t seed = 0;
  std::uint32_t dimension = 0;  ///< which of the drawn values, from 0
};

/// A number between 0 and 1, both left out, of draw i.
double chance(Stream stream, std::uint64_t i);

/// Where the i-th of n things goes in a shuffled row, 0 to n - 1, without shuffling the others: a Feistel
/// network [LubyRackoff1988] on the next larger range of even bits, walked until it comes back below n.
/// Needs i < n.
std::uint64_t shuffled(Stream stream, std::uint64_t i, std::uint64_t n);

/// The same as chance(), but so that n draws have exactly one in each n-th of the way from 0 to 1: a Latin
/// hypercube, where several dimensions are drawn so [McKay1979].
double chance_in_stratum(Stream stream, std::uint64_t i, std::uint64_t n);

}  // namespace coldbay
