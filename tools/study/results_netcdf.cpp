#include "tools/study/results_netcdf.hpp"

#include <dlfcn.h>
#include <fmt/core.h>
#include <netcdf.h>

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstdint>
#include <limits>
#include <set>
#include <string>
#include <string_view>
#include <system_error>

#include "tools/input/quantity.hpp"
#include "tools/report/files.hpp"
#include "tools/study/kept.hpp"
#include "tools/study/rows.hpp"

namespace coldbay {
namespace {

/// What is used of libnetcdf, loaded when it is needed: it and what it stands on take longer to load than
/// all of coldbay to start.
class NetcdfLibrary {
 public:
  static const NetcdfLibrary& loaded() {
    static const NetcdfLibrary library;
    return library;
  }

 private:
  template <typename Function>
  Function found(const char* name) const {
    void* function = handle_ ? dlsym(handle_, name) : nullptr;
    if (!function) throw OutputError(fmt::format("results.nc needs {}: {}", COLDBAY_NETCDF, dlerror()));
    return reinterpret_cast<Function>(function);
  }

  void* handle_ = dlopen(COLDBAY_NETCDF, RTLD_NOW | RTLD_LOCAL);  ///< kept while the program runs

  /// HDF5 beneath it would flush once more when the program ends, and crash where a disk was full; files are
  /// closed by then.
  NetcdfLibrary() { found<int (*)()>("H5dont_atexit")(); }

 public:
  decltype(&nc_create) create = found<decltype(&nc_create)>("nc_create");
  decltype(&nc_def_dim) def_dim = found<decltype(&nc_def_dim)>("nc_def_dim");
  decltype(&nc_def_var) def_var = found<decltype(&nc_def_var)>("nc_def_var");
  decltype(&nc_def_var_chunking) chunking = found<decltype(&nc_def_var_chunking)>("nc_def_var_chunking");
  decltype(&nc_set_var_chunk_cache) cache =
      found<decltype(&nc_set_var_chunk_cache)>("nc_set_var_chunk_cache");
  decltype(&nc_def_var_deflate) deflate = found<decltype(&nc_def_var_deflate)>("nc_def_var_deflate");
  decltype(&nc_put_att_text) text = found<decltype(&nc_put_att_text)>("nc_put_att_text");
  decltype(&nc_put_att_double) number = found<decltype(&nc_put_att_double)>("nc_put_att_double");
  decltype(&nc_put_vara_text) put_texts = found<decltype(&nc_put_vara_text)>("nc_put_vara_text");
  decltype(&nc_put_vara_double) put_numbers = found<decltype(&nc_put_vara_double)>("nc_put_vara_double");
  decltype(&nc_put_vara_longlong) put_ids = found<decltype(&nc_put_vara_longlong)>("nc_put_vara_longlong");
  decltype(&nc_enddef) enddef = found<decltype(&nc_enddef)>("nc_enddef");
  decltype(&nc_close) close = found<decltype(&nc_close)>("nc_close");
  decltype(&nc_strerror) strerror = found<decltype(&nc_strerror)>("nc_strerror");
};

/// A name as the CF conventions ask for it (letters, digits and underscores, a letter first, [CF2023] 2.3),
/// that no other variable has: "wall.bays[2].gap.right" is wall_bays_2_gap_right.
std::string variable_name(std::string_view name, std::set<std::string>& taken) {
  std::string out;
  for (const char c : name) {
    const bool plain = std::isalnum(static_cast<unsigned char>(c)) && static_cast<unsigned char>(c) < 0x80;
    if (plain)
      out += c;
    else if (!out.empty() && out.back() != '_')
      out += '_';
  }
  while (!out.empty() && out.back() == '_') out.pop_back();
  if (out.empty() || !std::isalpha(static_cast<unsigned char>(out.front()))) out.insert(0, "of_");
  std::string unique = out;
  for (int n = 2; !taken.insert(unique).second; ++n) unique = fmt::format("{}_{}", out, n);
  return unique;
}

/// A NetCDF file being written. All throw OutputError.
class Dataset {
 public:
  Dataset(const WholeFile& file, std::uint64_t rows) : name_(file.name().string()), rows_(rows) {
    check(nc_.create(file.hidden().c_str(), NC_CLOBBER | NC_NETCDF4, &id_));
    open_ = true;
    check(nc_.def_dim(id_, "variant", rows_, &variant_));
  }
  Dataset(const Dataset&) = delete;
  Dataset& operator=(const Dataset&) = delete;
  ~Dataset() {
    if (open_) nc_.close(id_);
  }

  /// A variable along `variant`; of characters with `width` of them.
  int variable(const std::string& name, nc_type type, std::size_t width = 0) {
    int dimensions[2] = {variant_, 0};
    if (width > 0) check(nc_.def_dim(id_, (name + "_length").c_str(), width, &dimensions[1]));
    int variable = 0;
    check(nc_.def_var(id_, name.c_str(), type, width > 0 ? 2 : 1, dimensions, &variable));
    const std::size_t chunk[2] = {std::min<std::size_t>(rows_, block_rows), std::max<std::size_t>(width, 1)};
    check(nc_.chunking(id_, variable, NC_CHUNKED, chunk));
    check(nc_.deflate(id_, variable, 1, 1, 1));
    if (width > 0) attribute(variable, "_Encoding", "utf-8");
    variables_.push_back(variable);
    return variable;
  }
  void attribute(int variable, const char* name, const std::string& text) {
    if (!text.empty()) check(nc_.text(id_, variable, name, text.size(), text.c_str()));
  }
  void fill_with_nan(int variable) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    check(nc_.number(id_, variable, "_FillValue", NC_DOUBLE, 1, &nan));
  }
  void end_of_header() {
    check(nc_.enddef(id_));
    // Blocks are chunks, and written once: none is kept. (Before the header's end this is not heeded.)
    for (const int variable : variables_) check(nc_.cache(id_, variable, 0, 1, 1.0F));
  }

  /// Rows from `first` on.
  void put(int variable, std::size_t first, const std::vector<double>& numbers) {
    const std::size_t n = numbers.size();
    check(nc_.put_numbers(id_, variable, &first, &n, numbers.data()));
  }
  void put(int variable, std::size_t first, const std::vector<long long>& ids) {
    const std::size_t n = ids.size();
    check(nc_.put_ids(id_, variable, &first, &n, ids.data()));
  }
  void put(int variable, std::size_t first, const std::string& characters, std::size_t width) {
    const std::size_t start[2] = {first, 0}, count[2] = {characters.size() / width, width};
    check(nc_.put_texts(id_, variable, start, count, characters.data()));
  }
  void close() {
    open_ = false;
    check(nc_.close(id_));
  }

  static constexpr std::size_t block_rows = 8192;

 private:
  void check(int status) const {
    if (status == NC_NOERR) return;
    const int disk = errno;  // HDF5 itself says "HDF error" and no more
    throw OutputError(fmt::format("{}: {}", name_,
                                  disk == ENOSPC || disk == EDQUOT || disk == EFBIG || disk == EIO
                                      ? std::generic_category().message(disk)
                                      : nc_.strerror(status)));
  }

  const NetcdfLibrary& nc_ = NetcdfLibrary::loaded();
  std::string name_;
  std::uint64_t rows_;
  int id_ = 0, variant_ = 0;
  std::vector<int> variables_;
  bool open_ = false;
};

/// One field of all rows, and those of its block that are not written yet.
struct NetcdfField {
  int variable = 0;
  std::size_t width = 0;  ///< of a text; 0: numbers
  std::vector<double> numbers;
  std::string characters;  ///< each padded to the width with zeros

  void add(const std::string& field) {
    if (width == 0) return numbers.push_back(number_in(field));
    characters += field;
    characters.append(width - field.size(), '\0');
  }
  void write(Dataset& to, std::size_t first) {
    if (width == 0)
      to.put(variable, first, numbers);
    else
      to.put(variable, first, characters, width);
    numbers.clear();
    characters.clear();
  }
};

/// Defines all variables; returns those of the fields behind the variant's number.
std::vector<NetcdfField> define(Dataset& out, const StudyCard& card, const std::vector<std::size_t>& longest,
                                int& variant) {
  std::set<std::string> taken{"variant", "failed"};
  variant = out.variable("variant", NC_INT64);
  out.attribute(variant, "long_name", "number of the variant");
  out.attribute(variant, "units", "1");
  std::vector<NetcdfField> fields;
  std::string coordinates;
  for (std::size_t c = 0; c < card.columns.size(); ++c) {
    const StudyColumn& column = card.columns[c];
    const std::string name = variable_name(column.name, taken);
    NetcdfField field;
    field.width = column.is_text ? longest[c + 1] : 0;
    field.variable = out.variable(name, column.is_text ? NC_CHAR : NC_DOUBLE, field.width);
    out.attribute(field.variable, "long_name", column.name);
    if (!column.is_text) {
      out.attribute(field.variable, "units", column.unit.empty() ? "1" : udunits_of(column.unit));
      if (is_difference(column)) out.attribute(field.variable, "units_metadata", "temperature: difference");
      out.fill_with_nan(field.variable);
    }
    if (column.varied)
      coordinates += (coordinates.empty() ? "" : " ") + name;
    else
      out.attribute(field.variable, "coordinates", coordinates);  // what is varied comes first
    fields.push_back(std::move(field));
  }
  NetcdfField failed;
  failed.width = longest.back();
  failed.variable = out.variable("failed", NC_CHAR, failed.width);
  out.attribute(failed.variable, "long_name", "why it failed; empty where it was solved");
  fields.push_back(std::move(failed));
  return fields;
}

}  // namespace

void write_netcdf(const WholeFile& file, const StudyCard& card, const RowIndex& index,
                  const std::vector<std::size_t>& longest) {
  Dataset out(file, index.there());
  out.attribute(NC_GLOBAL, "Conventions", "CF-1.11");
  out.attribute(NC_GLOBAL, "title", card.title);
  out.attribute(NC_GLOBAL, "source", fmt::format("coldbay {}", card.version));
  out.attribute(NC_GLOBAL, "comment", fmt::format("{} of {} variants of a study", index.there(), card.n));
  out.attribute(NC_GLOBAL, "inputs_sha256", card.inputs);
  int variant = 0;
  std::vector<NetcdfField> fields = define(out, card, longest, variant);
  out.end_of_header();

  std::vector<long long> ids;
  std::size_t first = 0;
  const auto write = [&] {
    out.put(variant, first, ids);
    for (NetcdfField& field : fields) field.write(out, first);
    first += ids.size();
    ids.clear();
  };
  RowIndex::Reader reader(index);
  for (std::uint64_t id = 0; id < index.size(); ++id) {
    if (!index.has(id)) continue;
    const std::vector<std::string> row = fields_of(reader.row(id));
    ids.push_back(static_cast<long long>(id));
    for (std::size_t f = 0; f < fields.size(); ++f) fields[f].add(row.at(f + 1));
    if (ids.size() == Dataset::block_rows) write();
  }
  if (!ids.empty()) write();
  out.close();
}

}  // namespace coldbay
