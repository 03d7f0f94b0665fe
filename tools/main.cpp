#include <fmt/core.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <new>
#include <optional>
#include <string>

#ifdef __GLIBC__
#include <malloc.h>
#endif

#include "materials/model_error.hpp"
#include "solver/solver_error.hpp"
#include "tools/catalogue.hpp"
#include "tools/compare.hpp"
#include "tools/face.hpp"
#include "tools/handout.hpp"
#include "tools/input/case.hpp"
#include "tools/input/library_reader.hpp"
#include "tools/outlook.hpp"
#include "tools/predict.hpp"
#include "tools/report/files.hpp"
#include "tools/report/result_json.hpp"
#include "tools/source_files.hpp"
#include "tools/start.hpp"
#include "tools/study/command.hpp"
#include "tools/study/progress.hpp"
#include "tools/verify.hpp"

namespace {

using namespace coldbay;

int check_case(const SourceText& source, const Library& library) {
  const Case c = read_case(source, library);
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
  fmt::print("{} of {} numbers of standards met, {} of {} of our own solutions by other methods\n",
             standards.met, standards.numbers, own.met, own.numbers);
  const bool all = standards.met == standards.numbers && own.met == own.numbers && standards.numbers > 0;
  return all ? exit_code::done : exit_code::not_reached;
}

int list_materials(const std::string& word, const Library& library) {
  bool any = false;
  for (const LibraryEntry& e : library) {
    std::string names = e.material.name;
    for (const std::string& also : e.also) names += ", " + also;
    const auto lower = [](std::string s) {
      std::transform(s.begin(), s.end(), s.begin(),
                     [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
      return s;
    };
    if (lower(names).find(lower(word)) == std::string::npos) continue;
    any = true;
    const std::string k = e.material.is_air_space ? "by its size"
                                                  : fmt::format("{:.4g} W/mK{}", e.material.conductivity,
                                                                e.material.law ? " at 10 °C" : "");
    fmt::print("{:<24}{:<23}{}\n", e.material.name, k, e.material.source);
    if (e.material.airflow_resistivity)
      fmt::print("{:<24}airflow resistivity {:.2g} kPa s/m2\n", "", 1e-3 * *e.material.airflow_resistivity);
    if (!e.also.empty()) fmt::print("{:<24}also: {}\n", "", fmt::join(e.also, ", "));
  }
  if (!any) say(fmt::format("no material has '{}' in its name; 'coldbay materials' lists all\n", word));
  return any ? exit_code::done : exit_code::usage;
}

int start_case(const std::string& name, const std::string& out) {
  try {
    fmt::print("{}", name.empty() ? starter_list() : start(name, out));
  } catch (const UnknownStarter& e) {
    say(e.what());
    return exit_code::usage;
  }
  return exit_code::done;
}

/// Each case by itself first, so that what is wrong with one is told with its name.
int make_catalogue(const std::vector<std::string>& files, const std::string& folder, const Library& library) {
  std::vector<SourceText> sources;
  for (const std::string& file : files) {
    const int code = with_case(file, [&](const SourceText& source) {
      (void)read_case(source, library);
      sources.push_back(source);
      return exit_code::done;
    });
    if (code != exit_code::done) return code;
  }
  try {
    write_catalogue(sources, library, folder);
  } catch (const InputErrors& e) {
    say(e.errors().front().title + "\n");
    return exit_code::bad_case;
  }
  say(fmt::format("wrote {}\n", (std::filesystem::path(folder) / "README.md").string()));
  return exit_code::done;
}

/// Each case by itself first, so that what is wrong with one is told with its name.
int compare_cases(const std::vector<std::string>& files, const MaterialsFile& materials,
                  const std::string& folder, const std::string& palette) {
  std::vector<SourceText> sources;
  for (const std::string& file : files) {
    const int code = with_case(file, [&](const SourceText& source) {
      (void)read_case(source, materials.library);
      sources.push_back(source);
      return exit_code::done;
    });
    if (code != exit_code::done) return code;
  }
  const auto out = folder.empty() ? std::nullopt : std::optional<std::filesystem::path>(folder);
  try {
    return compare(sources, materials, out, *palette_named(palette)) ? exit_code::done
                                                                     : exit_code::not_reached;
  } catch (const InputErrors& e) {
    say(e.errors().front().title + "\n");
    return exit_code::bad_case;
  }
}

/// An empty name must not pass for none: --out "$FORGOTTEN".
std::string named_file(const std::string& name) { return name.empty() ? "the file has no name" : ""; }
std::string named_folder(const std::string& name) { return name.empty() ? "the folder has no name" : ""; }

CLI::Option* add_folder(CLI::App* command, std::string& out, const std::string& what) {
  return command->add_option("--out", out, what)->check(named_folder);
}

void add_palette(CLI::App* command, std::string& palette) {
  command
      ->add_option("--palette", palette,
                   "colours of the pictures: hearth (ink blue by teal and sand to cream) or slate (grey)")
      ->check(CLI::IsMember({"hearth", "slate"}));
}

/// CLI::Range lets "nan" pass, and nothing is ever further off than that.
std::string not_nan(const std::string& text) {
  return std::isnan(std::strtod(text.c_str(), nullptr)) ? "'nan' is not a number" : "";
}

/// Below a millikelvin nobody sees anything, and a coarse face is none.
void add_within(CLI::App* command, double& within) {
  command
      ->add_option(
          "--within", within,
          fmt::format("how sure the face must be, in kelvins: {} unless told; 0.3 is a quick look", within))
      ->check(CLI::Range(0.002, 1.0))
      ->check(not_nan);
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

  std::vector<std::string> files;
  std::string file, out, palette = "hearth", word, own_materials, starter, new_file, weather_file;
  bool vtk = false;
  CLI::App* start_command =
      app.add_subcommand("start", "write a case to change to your own wall; without a name, list them");
  start_command->add_option("NAME", starter, "which one: 2x4-at-16, ...");
  start_command
      ->add_option("--out", new_file,
                   "the file to write, NAME.yaml unless told; never one that is there already")
      ->needs("NAME")
      ->check(named_file);
  CLI::App* predict_command =
      app.add_subcommand("predict", "solve a case; print what was found, and write result.json and pictures");
  predict_command->add_option("CASE", file, "the case file, YAML")->required();
  add_folder(predict_command, out, "folder for result.json and the pictures; without it, nothing is written");
  add_palette(predict_command, palette);
  predict_command->add_flag("--vtk", vtk,
                            "also write each section's grid and temperatures as VTK XML (.vtr)");
  FaceWishes wishes;
  CLI::App* face_command = app.add_subcommand("face",
                                              "solve the face of a case's wall in three dimensions; print "
                                              "what it shows, and write pictures and maps");
  face_command->add_option("CASE", file, "the case file, YAML")->required();
  add_folder(face_command, out, "folder for the pictures and maps; without it, nothing is written");
  add_palette(face_command, palette);
  add_within(face_command, wishes.within);
  face_command->add_flag("--framing", wishes.framing, "outline the framing on the pictures");
  face_command->add_flag("--outer", wishes.outer, "draw the outer face too");
  face_command->add_flag("--own-scale", wishes.own_scale,
                         "scale each sheet to itself, and stamp it so: not to be compared with others");
  CLI::App* outlook_command = app.add_subcommand(
      "outlook",
      "how cold must it be to see each fault, and which mornings of a weather file are worth going");
  outlook_command->add_option("CASE", file, "the case file, YAML")->required();
  outlook_command
      ->add_option("--weather", weather_file,
                   "hourly weather outside, CSV: time, temperature, wind, sun, rain")
      ->check(named_file);
  add_folder(outlook_command, out, "folder for outlook.json; without it, nothing is written");
  add_within(outlook_command, wishes.within);
  std::string language = "en", own_words, paper, pdf;
  double handout_within = HandoutStyle{}.within;
  CLI::App* handout_command = app.add_subcommand(
      "handout", "write pages to print and to look into: each fault of a wall, wrong beside right");
  handout_command->add_option("CASE", files, "the case files, YAML")->required();
  handout_command->add_option("--out", out, "the HTML file to write")->required()->check(named_file);
  handout_command->add_option("--pdf", pdf, "also print it to this PDF file, by a Chromium that is installed")
      ->check(named_file);
  handout_command->add_option("--paper", paper, "a4 or letter; letter for a case in inches, a4 for any other")
      ->check(CLI::IsMember({"a4", "letter"}));
  handout_command->add_option("--language", language, "of the words: en or es")
      ->check(CLI::IsMember(built_in_languages()));
  handout_command
      ->add_option("--words", own_words, "a file of words of your own, put over those of the language")
      ->check(named_file);
  add_palette(handout_command, palette);
  add_within(handout_command, handout_within);
  CLI::App* check_command =
      app.add_subcommand("check", "read a case and say what is wrong with it; solve nothing");
  check_command->add_option("CASE", file, "the case file, YAML")->required();
  CLI::App* catalogue_command = app.add_subcommand(
      "catalogue", "solve cases of one fault each, and write a page of them: README.md and pictures");
  catalogue_command->add_option("CASE", files, "the case files, YAML")->required();
  add_folder(catalogue_command, out, "the folder to write them into")->required();
  StudyWishes study;
  std::string share;
  bool list = false;
  CLI::App* study_command = app.add_subcommand(
      "study", "solve a case many times, varied as a study file says; what is there already is kept");
  study_command->add_option("STUDY", file, "the study file, YAML")->required();
  CLI::Option* study_out = add_folder(study_command, out, "the folder that keeps the study");
  study_command
      ->add_option("--jobs", study.jobs, "variants at a time; as many as there are processors unless told")
      ->check(CLI::Range(1, 1024));
  CLI::Option* list_option = study_command->add_flag(
      "--list", list, "print the number of variants and what each varies; solve nothing");
  CLI::Option* only_option =
      study_command->add_option("--case", study.only, "solve the variant of that number alone");
  study_command->add_option("--share", share, "solve the i-th of n shares alone: i/n, i from 1")
      ->excludes(only_option)
      ->check([](const std::string& text) {
        return read_share(text) ? std::string() : "a share is i/n, with i from 1 to n";
      });
  list_option->excludes(only_option);
  CLI::App* collect_command = app.add_subcommand(
      "collect", "join the shares of a study; say which variants are missing and which failed");
  collect_command->add_option("FOLDER", files, "the folders that keep them")->required();
  add_folder(collect_command, out, "the folder to join them in; may be one of them")->required();
  CLI::App* compare_command = app.add_subcommand(
      "compare", "solve two cases or more and hold them side by side: U, heat, coldest point, ranked");
  compare_command->add_option("CASE", files, "the case files, YAML")->required();
  add_folder(compare_command, out, "folder for compare.json and compare.png; without it, nothing is written");
  add_palette(compare_command, palette);
  CLI::App* verify_command =
      app.add_subcommand("verify", "solve the check cases and print reference, ours, tolerance, source");
  CLI::App* materials_command =
      app.add_subcommand("materials", "list the materials known by name, with their sources");
  materials_command->add_option("WORD", word, "only those with this in their names");

  for (CLI::App* command : {predict_command, face_command, outlook_command, handout_command, check_command,
                            catalogue_command, compare_command, materials_command, study_command})
    command
        ->add_option("--materials", own_materials,
                     "a file of materials of your own, added to the known ones or in their place")
        ->check(named_file);

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& e) {
    return app.exit(e) == 0 ? exit_code::done : exit_code::usage;
  }
  if (verify_command->parsed()) return verify();
  if (start_command->parsed()) return start_case(starter, new_file);
  if (collect_command->parsed()) return collect_study({files.begin(), files.end()}, out);
  return with_materials(own_materials, [&](const MaterialsFile& materials) {
    if (study_command->parsed()) {
      if (list) return list_study(file, materials);
      if (study_out->count() == 0) {
        say("--out is required: the folder that keeps the study\n");
        return exit_code::usage;
      }
      study.file = file;
      study.out = out;
      if (!share.empty()) study.share = *read_share(share);
      return run_study(study, materials);
    }
    if (materials_command->parsed()) return list_materials(word, materials.library);
    if (catalogue_command->parsed()) return make_catalogue(files, out, materials.library);
    if (compare_command->parsed()) return compare_cases(files, materials, out, palette);
    if (handout_command->parsed())
      return with_words(language, own_words, [&](const Words& words) {
        const HandoutStyle style{
            *palette_named(palette),
            paper.empty() ? std::nullopt : std::optional(paper == "a4" ? Paper::a4 : Paper::letter),
            handout_within};
        return handout(files, materials, words, style, out,
                       pdf.empty() ? std::nullopt : std::optional<std::filesystem::path>(pdf));
      });
    return with_case(file, [&](const SourceText& source) {
      if (check_command->parsed()) return check_case(source, materials.library);
      const auto folder = out.empty() ? std::nullopt : std::optional<std::filesystem::path>(out);
      wishes.palette = *palette_named(palette);
      const auto code = [](bool reached) { return reached ? exit_code::done : exit_code::not_reached; };
      if (face_command->parsed()) return code(face(source, materials, folder, wishes));
      if (outlook_command->parsed())
        return with_weather(weather_file, [&](const std::optional<NamedWeather>& weather) {
          return code(outlook(source, materials, weather, folder, wishes.within));
        });
      return code(predict(source, materials, folder, wishes.palette, vtk));
    });
  });
}

/// Grids are taken and given back by the hundred. What the system hands out afresh it must wipe first: a
/// tenth of the time of a face.
void keep_what_is_given_back() {
#ifdef __GLIBC__
  mallopt(M_MMAP_THRESHOLD, 32 << 20);  // the most that it takes
  mallopt(M_TRIM_THRESHOLD, 512 << 20);
#endif
}

}  // namespace

int main(int argc, char** argv) {
  keep_what_is_given_back();
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
