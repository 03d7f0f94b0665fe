#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <csignal>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <new>
#include <optional>
#include <string>

#include "materials/model_error.hpp"
#include "solver/solver_error.hpp"
#include "tools/input/case.hpp"
#include "tools/input/library_reader.hpp"
#include "tools/predict.hpp"
#include "tools/report/files.hpp"
#include "tools/report/result_json.hpp"
#include "tools/verify.hpp"

namespace {

using namespace coldbay;

namespace exit_code {
constexpr int done = 0, usage = 2, bad_case = 3, not_reached = 4, not_written = 5;
}

/// Largest case file read [bytes]: a hundred times any wall described by hand.
constexpr std::uintmax_t largest_case = 4u << 20;

/// To a person. Where not even that can be written there is nobody to tell, so it never fails.
void say(const std::string& message) { std::fputs(message.c_str(), stderr); }

SourceText read_source(const std::string& name) {
  const auto fail = [&](const std::string& why) { throw InputErrors({{{}, why, "", ""}}); };
  SourceText source{name, ""};
  std::error_code error;
  try {
    if (std::filesystem::is_directory(name, error)) fail("this is a folder, not a case file");
    std::ifstream in(name, std::ios::binary);
    if (!in) fail("cannot be opened");
    std::string text(largest_case + 1, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (in.bad()) fail("cannot be read");
    text.resize(static_cast<std::size_t>(in.gcount()));
    if (text.size() > largest_case) fail("this file is larger than any case, 4 MiB");
    source.text = std::move(text);
  } catch (const InputErrors& e) {
    for (const InputError& x : e.errors()) say(render(x, source));
    throw;
  }
  return source;
}

/// Runs a command on a case and renders what is wrong with the case.
template <class F>
int with_case(const std::string& name, F run) {
  std::optional<SourceText> source;
  try {
    source = read_source(name);
    return run(*source);
  } catch (const InputErrors& e) {
    if (!source) return exit_code::bad_case;  // said already
    for (const InputError& x : e.errors()) say(render(x, *source));
    const std::size_t n = e.errors().size();
    if (n > 1)
      say(n < most_errors ? fmt::format("{} errors\n", n) : fmt::format("{} errors, perhaps more\n", n));
  } catch (const ModelError& e) {
    for (const Problem& p : e.problems()) say(render({{}, p.what, "", p.hint}, *source));
  }
  return exit_code::bad_case;
}

int check_case(const SourceText& source) {
  const Case c = read_case(source);
  for (const InputError& warning : c.warnings) say(render(warning, source, "warning"));
  fmt::print("{}: no errors, {} section{}\n", source.name, c.sections.size(),
             c.sections.size() == 1 ? "" : "s");
  return exit_code::done;
}

int verify() {
  struct Count {
    std::size_t numbers = 0, met = 0;
  } standards, own;
  for (const SourceText& source : published_cases()) {
    const auto comparisons = compare_with_published(source);
    fmt::print("{}\n", comparison_table(source.name, comparisons));
    for (const Comparison& c : comparisons) {
      Count& count = c.published.source.starts_with("own ") ? own : standards;
      ++count.numbers;
      if (c.agrees) ++count.met;
    }
  }
  fmt::print("{} of {} numbers of standards met, {} of {} of our own finite-element solutions\n",
             standards.met, standards.numbers, own.met, own.numbers);
  const bool all = standards.met == standards.numbers && own.met == own.numbers && standards.numbers > 0;
  return all ? exit_code::done : exit_code::not_reached;
}

int list_materials(const std::string& word) {
  bool any = false;
  for (const LibraryEntry& e : built_in_library()) {
    std::string names = e.material.name;
    for (const std::string& also : e.also) names += ", " + also;
    const auto lower = [](std::string s) {
      std::transform(s.begin(), s.end(), s.begin(),
                     [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
      return s;
    };
    if (lower(names).find(lower(word)) == std::string::npos) continue;
    any = true;
    const std::string k =
        e.material.is_air_space ? "by its size" : fmt::format("{:.4g} W/mK", e.material.conductivity);
    fmt::print("{:<24}{:<14}{}\n", e.material.name, k, e.material.source);
    if (!e.also.empty()) fmt::print("{:<24}also: {}\n", "", fmt::join(e.also, ", "));
  }
  if (!any) say(fmt::format("no material has '{}' in its name; 'coldbay materials' lists all\n", word));
  return any ? exit_code::done : exit_code::usage;
}

int run(int argc, char** argv) {
  CLI::App app{
      "coldbay forecasts what an infrared survey of a framed wall will show, and what it costs in heat."};
  app.name("coldbay");
  app.require_subcommand(1);
  app.set_version_flag("--version", "coldbay " + version());
  app.footer(
      "Exit codes: 0 done, 2 usage, 3 the case is wrong, 4 the accuracy was not reached, 5 an output could "
      "not be written.");

  std::string file, out, palette = "hearth", word;
  CLI::App* predict_command =
      app.add_subcommand("predict", "solve a case; print what was found, and write result.json and pictures");
  predict_command->add_option("CASE", file, "the case file, YAML")->required();
  predict_command
      ->add_option("--out", out, "folder for result.json and the pictures; without it, nothing is written")
      ->check([](const std::string& folder) {
        return folder.empty() ? "the folder has no name" : "";  // --out "$FORGOTTEN" must not pass for done
      });
  predict_command
      ->add_option("--palette", palette,
                   "colours of the pictures: hearth (ink blue by teal and sand to cream) or slate (grey)")
      ->check(CLI::IsMember({"hearth", "slate"}));
  CLI::App* check_command =
      app.add_subcommand("check", "read a case and say what is wrong with it; solve nothing");
  check_command->add_option("CASE", file, "the case file, YAML")->required();
  CLI::App* verify_command =
      app.add_subcommand("verify", "solve the check cases and print reference, ours, tolerance, source");
  CLI::App* materials_command =
      app.add_subcommand("materials", "list the materials known by name, with their sources");
  materials_command->add_option("WORD", word, "only those with this in their names");

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& e) {
    return app.exit(e) == 0 ? exit_code::done : exit_code::usage;
  }
  if (predict_command->parsed())
    return with_case(file, [&](const SourceText& source) {
      const bool reached =
          predict(source, out.empty() ? std::nullopt : std::optional<std::filesystem::path>(out),
                  *palette_named(palette));
      return reached ? exit_code::done : exit_code::not_reached;
    });
  if (check_command->parsed()) return with_case(file, check_case);
  return verify_command->parsed() ? verify() : list_materials(word);
}

}  // namespace

int main(int argc, char** argv) {
  std::signal(SIGXFSZ, SIG_IGN);  // a file-size limit is an error to report, not a reason to die half-way
  try {
    const int code = run(argc, argv);
    if (std::fflush(stdout) != 0 || std::ferror(stdout)) {
      say("the results could not be written to the standard output\n");
      return exit_code::not_written;
    }
    return code;
  } catch (const SolverError& e) {
    say(fmt::format("not solved: {}\n", e.what()));
    return exit_code::not_reached;
  } catch (const std::bad_alloc&) {
    say("not solved: memory ran out\n");
    return exit_code::not_reached;
  } catch (const std::exception& e) {  // an OutputError, a full standard output, a picture too large
    say(fmt::format("not written: {}\n", e.what()));
    return exit_code::not_written;
  }
}
