#pragma once

#include <chrono>
#include <cstdint>
#include <string>
#include <vector>

namespace coldbay {

/// A page printed to PDF by a Chromium that is installed: the first on the PATH of chromium,
/// chromium-browser, google-chrome. It runs by itself without a window, in a folder of its own that is gone
/// afterwards, reads nothing but the page, and is stopped when `most` is over. What it made is judged by the
/// file: it must be a whole PDF of `sheets` pages. Throws OutputError, saying what to do, where there is no
/// such browser or no such file came of it.
std::vector<std::uint8_t> print_pdf(const std::string& html, std::size_t sheets,
                                    std::chrono::seconds most = std::chrono::seconds(60));

/// True for a PDF that print_pdf() made: a comment at its end says so.
bool is_printed_handout(const std::vector<std::uint8_t>& bytes);

}  // namespace coldbay
