#include "tools/report/study/page.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <string_view>

#include "tools/report/handout/markup.hpp"
#include "tools/report/study/result_figures.hpp"

extern "C" const char coldbay_study_css_begin[], coldbay_study_css_end[];

namespace coldbay {
namespace {

constexpr std::string_view begins = "<!DOCTYPE html>\n<!-- made by coldbay study -->\n";

std::string tag(std::string_view name, std::string_view text) {
  return fmt::format("<{0}>{1}</{0}>\n", name, escaped(text));
}

/// The rows that were solved.
StudyTable solved_rows(const StudyTable& table) {
  StudyTable solved;
  solved.columns = table.columns;
  solved.numbers.resize(table.columns.size());
  solved.texts.resize(table.columns.size());
  for (std::size_t row = 0; row < table.ids.size(); ++row) {
    if (!table.failed[row].empty()) continue;
    solved.ids.push_back(table.ids[row]);
    for (std::size_t c = 0; c < table.columns.size(); ++c)
      if (table.columns[c].is_text)
        solved.texts[c].push_back(table.texts[c][row]);
      else
        solved.numbers[c].push_back(table.numbers[c][row]);
  }
  solved.failed.resize(solved.ids.size());
  return solved;
}

/// A name that may break after its dots and before and after its brackets, and not in the middle of a word.
std::string with_breaks(std::string_view name) {
  std::string out;
  const auto is_word = [&](std::size_t i) {
    return i < name.size() && std::isalpha(static_cast<unsigned char>(name[i])) != 0;
  };
  std::size_t from = 0;
  for (std::size_t i = 1; i < name.size(); ++i) {
    const bool after_dot = name[i - 1] == '.' && is_word(i), before = name[i] == '[' && name[i - 1] != ' ',
               after = name[i - 1] == ']' && name[i] != ' ' && name[i] != '.';
    if (!after_dot && !before && !after) continue;
    out += escaped(name.substr(from, i - from)) + "<wbr/>";
    from = i;
  }
  return out + escaped(name.substr(from));
}

/// "0.3 to 0.6, 4 values", "loose, tight", "the same in all: 0.14".
std::string values_text(const StudyTable& table, std::size_t column) {
  constexpr std::size_t most_named = 6;
  const Levels levels = levels_of(table, column);
  const std::size_t n = levels.count();
  if (n == 0) return "no value";
  std::vector<std::string> names = levels.texts;
  for (std::size_t i = 0; names.empty() && i < n && n <= most_named; ++i)
    for (const double v : levels.numbers) names.push_back(shown_number(v));
  if (n == 1) return "the same in all: " + names.front();
  if (n <= most_named) return joined_texts(names);
  if (!levels.texts.empty()) {
    names.resize(most_named);
    return fmt::format("{} and {} more", joined_texts(names), grouped(n - most_named));
  }
  return fmt::format("{} to {}, {} values", shown_number(levels.numbers.front()),
                     shown_number(levels.numbers.back()), grouped(n));
}

std::string varied_markup(const StudyTable& table) {
  std::string rows;
  for (std::size_t c = 0; c < table.columns.size(); ++c)
    if (table.columns[c].varied)
      rows += fmt::format("<tr><th>{}</th><td class=\"name\">{}</td></tr>\n",
                          with_breaks(name_with_unit(table.columns[c])), escaped(values_text(table, c)));
  if (rows.empty()) return "";
  return "<table class=\"plain\"><caption>What was varied</caption><tbody>" + rows + "</tbody></table>\n";
}

std::string results_markup(const StudyTable& solved) {
  std::string rows;
  for (const std::size_t c : results_of(solved)) {
    const Spread b = spread_of(solved.numbers[c]);
    rows += fmt::format("<tr><th>{}</th>", with_breaks(name_with_unit(solved.columns[c])));
    if (b.n == 0 || b.least == b.greatest) {
      rows += fmt::format("<td class=\"name\" colspan=\"6\">{}</td></tr>\n",
                          b.n == 0 ? "no variant has it" : "the same in all: " + shown_number(b.least));
      continue;
    }
    for (const double v : {b.least, b.low, b.median, b.mean, b.high, b.greatest})
      rows += fmt::format("<td>{}</td>", shown_number(v));
    rows += "</tr>\n";
  }
  if (rows.empty()) return "";
  return "<div class=\"wide\"><table class=\"plain results\"><caption>What came "
         "out</caption><thead><tr><th></th><th>least</th>"
         "<th>5 %</th><th>median</th><th>mean</th><th>95 %</th><th>greatest</th></tr></thead><tbody>" +
         rows + "</tbody></table></div>\n";
}

std::string figure_markup(StudyFigure figure, std::size_t number) {
  figure.data.file = fmt::format("figure-{}.csv", number);
  std::string out =
      fmt::format("<figure><figcaption><b>{}.</b> {}</figcaption>\n", number, with_breaks(figure.title));
  out += svg_of(figure.figure, figure.title);
  if (!figure.note.empty()) out += fmt::format("<p class=\"note\">{}</p>\n", escaped(figure.note));
  out += data_markup(figure.data);
  return out + "</figure>\n";
}

/// Failures by their message, the commonest first.
std::string failures_markup(const StudyTable& table) {
  constexpr std::size_t most_messages = 20;
  struct Failure {
    std::size_t n = 0;
    std::uint64_t first = 0;
    std::string message;
  };
  std::map<std::string, std::size_t> known;
  std::vector<Failure> all;
  for (std::size_t row = 0; row < table.ids.size(); ++row) {
    const std::string& message = table.failed[row];
    if (message.empty()) continue;
    const auto [at, is_new] = known.try_emplace(message, all.size());
    if (is_new) all.push_back({0, table.ids[row], message});
    ++all[at->second].n;
  }
  if (all.empty()) return "";
  std::stable_sort(all.begin(), all.end(), [](const Failure& a, const Failure& b) { return a.n > b.n; });
  std::string out =
      "<section><h2>Variants that failed</h2>\n<p>They are in no figure and no number above.</p>\n"
      "<table class=\"plain\"><thead><tr><th>variants</th><th>the first</th><th "
      "class=\"name\">why</th></tr></thead><tbody>";
  for (std::size_t i = 0; i < std::min(most_messages, all.size()); ++i) {
    constexpr std::size_t longest = 300;  // bytes
    const std::string& m = all[i].message;
    out +=
        fmt::format("<tr><td>{}</td><td>{}</td><td class=\"name\">{}{}</td></tr>\n", all[i].n, all[i].first,
                    escaped(std::string_view(m).substr(0, longest)), m.size() > longest ? "…" : "");
  }
  out += "</tbody></table>\n";
  if (all.size() > most_messages)
    out += tag("p", fmt::format("And {} messages more.", all.size() - most_messages));
  return out + "</section>\n";
}

std::string left_out_text(const StudyView& view) {
  std::string out;
  const Variation& all = view.variation;
  if (!view.left_out.empty()) {
    std::vector<std::string> names;
    names.reserve(view.left_out.size());
    for (const std::size_t c : view.left_out) names.push_back(view.table->columns[c].name);
    const std::size_t most_named = 12, n = names.size();
    if (n > most_named) names.resize(most_named);
    out += fmt::format("There are no figures of {}{}. ", joined_texts(names),
                       n > most_named ? fmt::format(" and {} results more", n - most_named) : "");
  }
  if (all.parts.size() > most_effects)
    out += fmt::format(
        "Of each result the effects of the {} parameters with the greatest shares are drawn, of {}. ",
        most_effects, all.parts.size());
  constexpr std::size_t fewest_draws = 10;  // see effect_of_drawn() and first_order_of_drawn()
  if (all.crossing.has_draws && all.crossing.draws < fewest_draws)
    out += fmt::format("{} draws are too few to tell what each parameter does.", all.crossing.draws);
  return out;
}

constexpr std::string_view how_to_read =
    "<section class=\"reading\"><h2>How to read this</h2><ul>"
    "<li>A band holds the middle 90 % of the variants, from their 5 to their 95 % quantile. It says how much "
    "the "
    "variants differ, not how sure each number is.</li>"
    "<li>A mean over all else weighs every variant alike: it is as typical of walls as the choice of "
    "variants is.</li>"
    "<li>A first-order index is the share of a result's variance that goes with one parameter alone. It "
    "needs "
    "parameters that vary independently of each other; those that no row moves one without the other have "
    "one "
    "bar. "
    "What lies within two standard errors of zero may be nothing. Of what was drawn it is counted by draws: "
    "a "
    "draw that was solved in many combinations of the rest is one draw.</li>"
    "<li>All of it is of a model of a wall. A wall that was built may differ in what no variant varied.</li>"
    "</ul></section>\n";

}  // namespace

std::string study_html(const StudyTable& table, const std::string& title,
                       const std::vector<std::string>& provenance) {
  const bool some_failed = std::any_of(table.failed.begin(), table.failed.end(),
                                       [](const std::string& why) { return !why.empty(); });
  const StudyTable without_failed = some_failed ? solved_rows(table) : StudyTable{};
  const StudyTable& solved = some_failed ? without_failed : table;
  const StudyView view = view_of(solved);
  const std::size_t n_failed = table.ids.size() - solved.ids.size();
  std::string out{begins};
  out +=
      "<html lang=\"en\"><head><meta charset=\"utf-8\"/>"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n";
  out += tag("title", title);
  out += "<style>\n";
  out.append(coldbay_study_css_begin, coldbay_study_css_end);
  out += "</style></head>\n<body><main>\n<header>";
  out += tag("h1", title);
  out += tag("p", fmt::format("{} variants{}", grouped(table.ids.size()),
                              n_failed > 0 ? fmt::format(", {} of them failed", grouped(n_failed)) : ""));
  for (const std::string& line : provenance) out += fmt::format("<p class=\"where\">{}</p>\n", escaped(line));
  out += "</header>\n<section class=\"tables\">" + varied_markup(table) + results_markup(solved) +
         "</section>\n";
  const std::string left_out = left_out_text(view);
  if (!left_out.empty()) out += tag("p", left_out);
  std::size_t number = 0;
  for (std::size_t r = 0; r < view.results.size(); ++r) {
    std::vector<StudyFigure> figures = figures_of(view, view.results[r]);
    if (figures.empty()) continue;
    out += "<section>";
    out += fmt::format("<h2>{}</h2>\n", with_breaks(name_with_unit(solved.columns[view.results[r]])));
    out += "<div class=\"figures\">\n";
    for (StudyFigure& figure : figures) out += figure_markup(std::move(figure), ++number);
    out += "</div></section>\n";
  }
  std::vector<StudyFigure> pairs = pairs_of(view);
  if (!pairs.empty()) {
    out += "<section><h2>Pairs</h2><div class=\"figures pairs\">\n";
    for (StudyFigure& figure : pairs) out += figure_markup(std::move(figure), ++number);
    out += "</div></section>\n";
  }
  out += failures_markup(table);
  out += how_to_read;
  return out + "</main></body></html>\n";
}

bool is_study_page(const std::vector<std::uint8_t>& bytes) {
  return bytes.size() >= begins.size() && std::equal(begins.begin(), begins.end(), bytes.begin());
}

}  // namespace coldbay
