#include "tools/report/files.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <string>

namespace coldbay::files_test {
namespace {

namespace fs = std::filesystem;
using Names = std::set<std::string>;

/// A folder of its own, gone with the test.
class Files : public testing::Test {
 protected:
  Files() {
    std::string name = (fs::temp_directory_path() / "coldbay-files-XXXXXX").string();
    folder = mkdtemp(name.data()) ? name : "";
  }
  ~Files() override { fs::remove_all(folder); }
  void SetUp() override { ASSERT_FALSE(folder.empty()); }

  static OutputFile file(const std::string& name, const std::string& text) {
    return {name, {text.begin(), text.end()}};
  }
  void put(const std::string& name, const std::string& text) const {
    std::ofstream(folder / name, std::ios::binary) << text;
  }
  std::string text_of(const std::string& name) const {
    std::ifstream in(folder / name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  }
  /// All names in the folder, hidden ones too.
  Names names() const {
    Names all;
    for (const auto& entry : fs::directory_iterator(folder)) all.insert(entry.path().filename().string());
    return all;
  }

  fs::path folder;
};

/// Here, files of ours begin with this word.
bool is_ours(const std::vector<std::uint8_t>& bytes) {
  const std::string text(bytes.begin(), bytes.end());
  return text.starts_with("ours");
}

TEST_F(Files, AreWrittenAndReplaced) {
  write_all(folder, {file("a", "ours 1"), file("b", "")}, is_ours);
  EXPECT_EQ(names(), (Names{"a", "b"}));
  EXPECT_EQ(text_of("a"), "ours 1");
  fs::remove(folder / "b");
  write_all(folder, {file("a", "ours 2"), file("b", std::string(1'000'000, 'x'))}, is_ours);
  EXPECT_EQ(names(), (Names{"a", "b"}));
  EXPECT_EQ(text_of("a"), "ours 2");
  EXPECT_EQ(text_of("b").size(), 1'000'000u);
}

TEST_F(Files, OfOthersStopEverything) {
  put("b", "theirs");
  EXPECT_THROW(write_all(folder, {file("a", "ours"), file("b", "ours")}, is_ours), OutputError);
  EXPECT_EQ(names(), (Names{"b"}));
  EXPECT_EQ(text_of("b"), "theirs");
}

TEST_F(Files, AreAllOldWhereOneCannotHaveItsName) {
  // The last name lies in a folder that is not there, which shows only when names are given.
  put("old", "ours 1");
  EXPECT_THROW(
      write_all(folder, {file("old", "ours 2"), file("new", "ours 2"), file("missing/x", "ours 2")}, is_ours),
      OutputError);
  EXPECT_EQ(names(), (Names{"old"}));
  EXPECT_EQ(text_of("old"), "ours 1");
}

TEST_F(Files, LeaveNoNewFolderWhereTheyFail) {
  EXPECT_THROW(write_all(folder / "one" / "two", {file("missing/x", "ours")}, is_ours), OutputError);
  EXPECT_EQ(names(), Names{});
}

TEST_F(Files, OfAKilledRunDoNotStopTheNext) {
  const std::string left = ".a." + std::to_string(getpid());
  put("a", "ours 1");
  put(left, "half of");
  write_all(folder, {file("a", "ours 2")}, is_ours);
  EXPECT_EQ(names(), (Names{"a"}));
  EXPECT_EQ(text_of("a"), "ours 2");
}

TEST_F(Files, FollowALinkedFolderButReplaceALinkedFile) {
  fs::create_directory(folder / "real");
  fs::create_directory_symlink("real", folder / "linked");
  put("elsewhere", "ours 1");
  fs::create_symlink("../elsewhere", folder / "real" / "a");
  write_all(folder / "linked", {file("a", "ours 2")}, is_ours);
  EXPECT_EQ(text_of("real/a"), "ours 2");
  EXPECT_FALSE(fs::is_symlink(folder / "real" / "a"));
  EXPECT_EQ(text_of("elsewhere"), "ours 1");
}

TEST_F(Files, ANewOneTakesNoPlaceOfAnother) {
  write_new(folder / "below" / "a", file("", "ours").bytes);
  EXPECT_EQ(text_of("below/a"), "ours");
  put("b", "ours");  // not even one of ours
  EXPECT_THROW(write_new(folder / "b", file("", "new").bytes), OutputError);
  EXPECT_EQ(text_of("b"), "ours");
  fs::create_symlink("nowhere", folder / "c");
  EXPECT_THROW(write_new(folder / "c", file("", "new").bytes), OutputError);
  EXPECT_THROW(write_new(folder / "below", file("", "new").bytes), OutputError);
  EXPECT_THROW(write_new(folder / "new" / "", file("", "new").bytes), OutputError);
  EXPECT_EQ(names(), (Names{"b", "below", "c"}));
}

}  // namespace
}  // namespace coldbay::files_test
