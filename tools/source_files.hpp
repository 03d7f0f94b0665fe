#pragma once

#include <optional>
#include <string>
#include <utility>

#include "materials/model_error.hpp"
#include "tools/exit_code.hpp"
#include "tools/input/input_error.hpp"
#include "tools/input/library_reader.hpp"
#include "tools/input/words_reader.hpp"
#include "tools/outlook.hpp"
#include "tools/outputs.hpp"
#include "tools/study/progress.hpp"

// The files that a person names on the command line: read, and what is wrong with them told.

namespace coldbay {

/// A whole file of at most 4 MiB. Throws InputErrors, told already, where it cannot be read.
SourceText read_source(const std::string& name);

/// Tells of everything that is wrong with a file; returns the exit code for that.
int refuse(const InputErrors& e, const SourceText& source);
int refuse(const ModelError& e, const SourceText& source);

/// Runs what reads or solves a case, and renders what is wrong with it.
template <class F>
int guarded(const SourceText& source, F run) {
  try {
    return run();
  } catch (const InputErrors& e) {
    return refuse(e, source);
  } catch (const ModelError& e) {
    return refuse(e, source);
  }
}

/// A file, read; nothing where that cannot be, which is told.
std::optional<SourceText> source_if_readable(const std::string& name);

/// Runs a command on a case and renders what is wrong with the case.
template <class F>
int with_case(const std::string& name, F run) {
  const std::optional<SourceText> source = source_if_readable(name);
  return source ? guarded(*source, [&] { return run(*source); }) : exit_code::bad_case;
}

/// Runs a command with the library, and what the reader's own file of materials, if any, puts over it.
template <class F>
int with_materials(const std::string& file, F run) {
  if (file.empty()) return run(MaterialsFile{built_in_library(), {}});
  std::optional<SourceText> source = source_if_readable(file);
  if (!source) return exit_code::bad_case;
  std::optional<Library> library;
  const int code = guarded(*source, [&] {
    library = library_with(*source);
    return exit_code::done;
  });
  return library ? run(MaterialsFile{std::move(*library), std::move(source)}) : code;
}

/// The same with hourly weather from a file, if any.
template <class F>
int with_weather(const std::string& file, F run) {
  if (file.empty()) return run(std::nullopt);
  const std::optional<SourceText> source = source_if_readable(file);
  if (!source) return exit_code::bad_case;
  std::optional<NamedWeather> weather;
  const int code = guarded(*source, [&] {
    weather = {file, read_weather(*source)};
    return exit_code::done;
  });
  if (!weather) return code;
  for (const InputError& note : weather->file.notes) say(render(note, *source, "note"));
  return run(std::move(weather));
}

/// The same with the words of a language, and what a file of the trainer's own, if any, puts over them.
template <class F>
int with_words(const std::string& language, const std::string& file, F run) {
  if (file.empty()) return run(built_in_words(language));
  const std::optional<SourceText> source = source_if_readable(file);
  if (!source) return exit_code::bad_case;
  std::optional<Words> words;
  const int code = guarded(*source, [&] {
    words = words_with(*source, built_in_words(language));
    return exit_code::done;
  });
  return words ? run(*words) : code;
}

}  // namespace coldbay
