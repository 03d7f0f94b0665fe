#include "tools/study/opened.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <set>
#include <utility>

#include "tools/input/case_document.hpp"
#include "tools/report/result_json.hpp"
#include "tools/study/kept.hpp"
#include "tools/study/progress.hpp"
#include "tools/study/study_reader.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t largest_case = 4u << 20, largest_table = 256u << 20;  // [bytes]

/// Values tried one by one before anything is solved, so that a slip in a list is told at once.
constexpr std::size_t most_tried = 200;

SourceText load(const fs::path& file, std::uintmax_t largest) {
  const auto fail = [&](std::string why) {
    say(render({{}, why, "", ""}, {file.string(), ""}));
    throw InputErrors({{{}, std::move(why), "", ""}});
  };
  std::error_code error;
  if (fs::is_directory(file, error)) fail("this is a folder, not a file");
  std::ifstream in(file, std::ios::binary);
  if (!in) fail("cannot be opened");
  SourceText source{file.string(), {}};
  std::vector<char> piece(1u << 20);
  while (in.read(piece.data(), static_cast<std::streamsize>(piece.size())) || in.gcount() > 0) {
    source.text.append(piece.data(), static_cast<std::size_t>(in.gcount()));
    if (source.text.size() > largest) fail(fmt::format("this file is larger than {} MiB", largest >> 20));
  }
  if (in.bad()) fail("cannot be read");
  return source;
}

/// Says what is wrong with one file, and passes it on.
template <class F>
auto telling(const SourceText& source, F read) {
  try {
    return read();
  } catch (const InputErrors& e) {
    for (const InputError& x : e.errors()) say(render(x, source));
    throw;
  }
}

bool is_at_place_of(Place a, Place b) { return a.line == b.line && a.column == b.column; }

std::vector<const CasePath*> all_paths(const Study& study) {
  std::vector<const CasePath*> all;
  for (const StudyFactor& f : study.factors)
    for (const CasePath& p : f.paths) all.push_back(&p);
  for (const StudyDraw& d : study.drawn)
    for (const CasePath& p : d.paths) all.push_back(&p);
  return all;
}

/// The file whose header names a path; empty where the study names it.
std::string table_of(const Study& study, const CasePath& path) {
  for (const StudyFactor& f : study.factors)
    for (const CasePath& p : f.paths)
      if (&p == &path) return f.table_file;
  return {};
}

InputError no_such_path(const OpenStudy& s, const CasePath& path, const std::string& why,
                        const std::string& takes) {
  const std::string near = nearest_path(s.base, path), table = table_of(s.study, path);
  std::string hint = near.empty() ? takes : fmt::format("did you mean '{}'?", near);
  if (!near.empty() && near != path.text && !takes.empty() && !takes.starts_with("did you mean"))
    hint += " " + takes;
  const std::string named = table.empty() ? "" : fmt::format(", which {} names", harmless(table));
  return {path.where, fmt::format("the base case has no '{}'{}: {}", path.text, named, why), "", hint};
}

/// What is wrong with the paths: words that the case does not take, and items that are not there.
std::vector<InputError> path_errors(const OpenStudy& s, const Variant& first) {
  std::vector<InputError> errors;
  Node document = s.base;
  for (const Variant::Setting& setting : first.settings)
    if (const auto wrong = put(document, *setting.path, setting.value))
      errors.push_back(no_such_path(s, *setting.path, *wrong, ""));
  try {
    (void)read_case(document, s.library);
  } catch (const InputErrors& e) {
    for (const InputError& x : e.errors())
      for (const CasePath* path : all_paths(s.study)) {
        const bool its_word = std::any_of(path->steps.begin(), path->steps.end(), [&](const auto& step) {
          return !step.key.empty() && x.title == fmt::format("unknown key '{}'", shortened(step.key));
        });
        if (its_word && is_at_place_of(x.where, marked(path->where)))
          errors.push_back(no_such_path(s, *path, x.title, x.hint));
      }
  }
  return errors;
}

/// What is wrong with the values of a variant, said once each.
class Tries {
 public:
  Tries(const OpenStudy& s, const SourceText& source) : s_(s), source_(source) {}

  /// Reads a variant into the case. Returns whether its own values are wrong in a way that was not seen yet.
  bool look_at(std::uint64_t id) {
    if (tried_++ >= most_tried) return false;
    bool is_new = false;
    try {
      (void)case_of(s_, variant_at(s_.study, s_.varied, id));
    } catch (const InputErrors& e) {
      for (InputError x : e.errors()) {
        if (!is_of_study(x.where)) continue;
        x.where = unmarked(x.where);
        if (!seen_.insert(render(x, source_)).second) continue;
        is_new = true;
        wrong_.push_back(std::move(x));
      }
    }
    return is_new;
  }

  const std::vector<InputError>& wrong() const { return wrong_; }

 private:
  const OpenStudy& s_;
  const SourceText& source_;
  std::set<std::string> seen_;
  std::vector<InputError> wrong_;
  std::size_t tried_ = 0;
};

/// Tells of values that cannot be read into the case with the first of everything else. They may be right
/// beside others, so these are warnings; but where no value of a list can be, it is an error.
void try_values(const OpenStudy& s, const SourceText& source) {
  Tries tries(s, source);
  const bool first_is_wrong = tries.look_at(0);
  bool hopeless = first_is_wrong && s.n == s.study.draws;
  std::uint64_t block = s.n;
  for (const StudyFactor& f : s.study.factors) {
    block /= f.size();
    if (f.table || f.size() < 2 || f.size() > most_tried) continue;
    bool all_wrong = first_is_wrong;
    for (std::uint64_t k = 1; k < f.size(); ++k) all_wrong = tries.look_at(k * block) && all_wrong;
    hopeless = hopeless || all_wrong;
  }
  for (const InputError& x : tries.wrong()) say(render(x, source, hopeless ? "error" : "warning"));
  if (hopeless) throw InputErrors(tries.wrong());
}

/// Where the last column of that name is asked for.
Place place_of_column(const Study& study, const std::string& name) {
  Place where;
  const auto look = [&](const auto& varied) {
    const bool is_path =
        varied.name.empty() && std::any_of(varied.paths.begin(), varied.paths.end(),
                                           [&](const CasePath& p) { return p.text == name; });
    if (varied.name == name || is_path) where = varied.where;
  };
  for (const StudyFactor& f : study.factors) look(f);
  for (const StudyDraw& d : study.drawn) look(d);
  return where;
}

void check_names(const OpenStudy& s, const SourceText& source) {
  std::set<std::string> names{"variant", "failed"};
  for (const auto* columns : {&s.varied, &s.kept})
    for (const StudyColumn& c : *columns)
      if (!names.insert(c.name).second) {
        const InputError error{place_of_column(s.study, c.name),
                               fmt::format("two columns would be called '{}'", shortened(c.name)), "",
                               "give one of them another name"};
        say(render(error, source));
        throw InputErrors({error});
      }
}

std::vector<std::string> section_names(const Study& study, const Case& base) {
  const std::vector<const CasePath*> paths = all_paths(study);
  const bool varied = std::any_of(paths.begin(), paths.end(), [](const CasePath* p) {
    return !p->steps.empty() && p->steps[0].key == "sections";
  });
  std::vector<std::string> names;
  for (const Section& section : base.sections)
    names.push_back(varied ? fmt::format("section {}", names.size() + 1) : section.name);
  return names;
}

OpenStudy open_all(const fs::path& file, const MaterialsFile& materials) {
  const SourceText source = load(file, largest_case);
  OpenStudy s;
  s.library = materials.library;
  s.study = telling(source, [&] { return read_study(source); });
  const fs::path folder = file.parent_path();
  const SourceText base = load(folder / s.study.base, largest_case);
  std::string inputs = fmt::format("{}\n{}\n{}\n{}\n", version(), sha256(source.text), sha256(base.text),
                                   materials.own ? sha256(materials.own->text) : "");
  for (StudyFactor& factor : s.study.factors) {
    if (factor.table_file.empty()) continue;
    const SourceText table = load(folder / factor.table_file, largest_table);
    telling(table, [&] { read_study_table(table, factor); });
    inputs += sha256(table.text) + '\n';
  }
  s.inputs = sha256(inputs);
  telling(base, [&] {
    s.base = read_document(base);
    const Case c = read_case(s.base, s.library);
    s.sections = section_names(s.study, c);
    s.units = c.units;
  });
  telling(source, [&] { s.n = count_variants(s.study); });
  s.varied = varied_columns(s.study);
  s.kept = kept_columns(s.study.keep, s.sections, s.units);
  check_names(s, source);
  telling(source, [&] {
    std::vector<InputError> errors = path_errors(s, variant_at(s.study, s.varied, 0));
    if (!errors.empty()) throw InputErrors(std::move(errors));
  });
  try_values(s, source);
  return s;
}

}  // namespace

std::optional<OpenStudy> open_study(const fs::path& file, const MaterialsFile& materials) {
  try {
    return open_all(file, materials);
  } catch (const InputErrors&) {  // said already
    return std::nullopt;
  }
}

Case case_of(const OpenStudy& study, const Variant& variant, const CaseParts& wanted) {
  Node document = study.base;
  for (const Variant::Setting& setting : variant.settings)
    if (const auto wrong = put(document, *setting.path, setting.value))
      throw InputErrors({{marked(setting.path->where), *wrong, "", ""}});
  Case c = read_case(document, study.library, wanted);
  if (c.sections.size() != study.sections.size())
    throw InputErrors(
        {{{},
          fmt::format("{} sections, where the base case has {}", c.sections.size(), study.sections.size()),
          "",
          ""}});
  return c;
}

}  // namespace coldbay
