#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "tools/study/table.hpp"

namespace coldbay {

/// What study.json says of the folder that it lies in.
struct StudyCard {
  std::string title, version, inputs;  ///< `inputs`: SHA-256 of all that the rows come from
  std::uint64_t n = 0;                 ///< variants
  std::vector<StudyColumn> columns;    ///< varied, then kept
};

/// Makes the folder of a study, or finds that it is one already. Throws OutputError where it belongs to other
/// inputs, or holds what is not of a study.
///
///     DIR/study.json       what this is
///     DIR/parts/1.rows     rows, each sealed, in the order in which they were solved; one file a run
///     DIR/results.csv      all rows in order, once a run has ended
///     DIR/results.json
///     DIR/results.nc       the same as NetCDF
///     DIR/study.html       the plots, of up to 100,000 rows
void open_folder(const std::filesystem::path& folder, const StudyCard& card);

/// Reads study.json of a folder. Throws OutputError where there is none, or not of this program.
StudyCard read_card(const std::filesystem::path& folder);

/// A file of rows that one run adds to; it is made with the first. Rows are whole after a kill, and at most
/// the last one is torn.
class Journal {
 public:
  explicit Journal(const std::filesystem::path& folder);
  Journal(const Journal&) = delete;
  Journal& operator=(const Journal&) = delete;
  ~Journal();

  /// Throws OutputError where the disk is full: what was written before stays.
  void add(const std::string& row);

  /// Sees to it that the rows outlive a power cut.
  void sync();

 private:
  std::filesystem::path parts_, file_;
  int fd_ = -1;
  std::uint64_t size_ = 0;
};

/// Where each row lies, in the files of one folder or several: eight bytes a variant, whatever a row holds.
class RowIndex {
 public:
  explicit RowIndex(std::uint64_t n) : places_(n, 0) {}

  /// Looks through all rows of a folder. Torn ones are passed over. Throws OutputError where a file cannot
  /// be read, and where two files say different things of one variant.
  void add_folder(const std::filesystem::path& folder);

  std::uint64_t size() const { return places_.size(); }
  bool has(std::uint64_t id) const { return places_[id] != 0; }
  std::uint64_t there() const { return there_; }

  /// Reads rows, best in order; keeps few files open at a time.
  class Reader {
   public:
    explicit Reader(const RowIndex& index) : index_(index) {}
    Reader(const Reader&) = delete;
    Reader& operator=(const Reader&) = delete;
    ~Reader();
    std::string row(std::uint64_t id);

   private:
    struct Window {
      std::size_t file = 0;
      int fd = -1;
      std::uint64_t from = 0;
      std::string bytes;
    };
    Window& window_of(std::size_t file);
    const RowIndex& index_;
    std::vector<Window> windows_;
    std::size_t next_ = 0;
  };

 private:
  void add_file(const std::filesystem::path& path);
  void add_row(std::uint64_t id, std::size_t file, std::uint64_t offset, std::string_view row, Reader& known);

  std::vector<std::filesystem::path> files_;
  std::vector<std::uint64_t> places_;  ///< file in the upper 20 bits, offset + 1 in the lower 44; 0: none
  std::uint64_t there_ = 0;
};

}  // namespace coldbay
