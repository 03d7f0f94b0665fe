#include "tools/print_pdf.hpp"

#include <gtest/gtest.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "tools/report/files.hpp"

namespace coldbay::print_pdf_test {
namespace {

namespace fs = std::filesystem;

/// A folder on the PATH alone, with a program called chromium in it, or none.
class FakeBrowser {
 public:
  explicit FakeBrowser(const std::string& script) : path_(std::getenv("PATH")) {
    std::string pattern = (fs::temp_directory_path() / "coldbay-fake-XXXXXX").string();
    folder_ = mkdtemp(pattern.data());
    if (!script.empty()) {
      const fs::path program = folder_ / "chromium";
      std::ofstream(program) << "#!/bin/sh\nfor a in \"$@\"; do case $a in --print-to-pdf=*) "
                                "pdf=${a#--print-to-pdf=};; esac; done\n"
                             << script << "\n";
      fs::permissions(program, fs::perms::owner_all);
    }
    setenv("PATH", folder_.c_str(), 1);
  }
  ~FakeBrowser() {
    setenv("PATH", path_.c_str(), 1);
    fs::remove_all(folder_);
  }
  FakeBrowser(const FakeBrowser&) = delete;
  FakeBrowser& operator=(const FakeBrowser&) = delete;

 private:
  std::string path_;
  fs::path folder_;
};

std::string complaint(const std::string& script, std::size_t sheets = 2, int seconds = 20) {
  const FakeBrowser fake(script);
  try {
    print_pdf("<p>page</p>", sheets, std::chrono::seconds(seconds));
  } catch (const OutputError& e) {
    return e.what();
  }
  return {};
}

bool says(const std::string& text, const std::string& what) { return text.find(what) != std::string::npos; }

const std::string two_pages =
    "printf '%%PDF-1.4\\n/Type /Pages\\n/Type /Page\\n/Type /Page\\n%%%%EOF\\n' > \"$pdf\"";

TEST(PrintPdf, TakesAFileThatIsWholeAndHasItsPages) {
  const FakeBrowser fake(two_pages);
  const auto pdf = print_pdf("<p>page</p>", 2);
  EXPECT_TRUE(is_printed_handout(pdf));
  EXPECT_EQ(std::string(pdf.begin(), pdf.begin() + 5), "%PDF-");
}

TEST(PrintPdf, JudgesByTheFileAndNotByTheExitCode) {
  EXPECT_EQ(complaint(two_pages + "\nexit 7"), "");
  EXPECT_TRUE(says(complaint("exit 0"), "made no PDF within 20 s"));
  EXPECT_TRUE(says(complaint("printf '%%PDF-1.4\\ncut off' > \"$pdf\""), "made no PDF"));
  EXPECT_TRUE(says(complaint(two_pages, 3), "printed 2 pages where 3 are meant"));
}

TEST(PrintPdf, WithoutABrowserItSaysWhatToDo) {
  EXPECT_TRUE(says(complaint(""), "no Chromium is installed to print with"));
  EXPECT_FALSE(is_printed_handout({'%', 'P', 'D', 'F'}));
}

TEST(PrintPdf, StopsABrowserThatHangs) {
  // This one would hang for ever.
  EXPECT_TRUE(says(complaint("while :; do :; done", 2, 1), "made no PDF within 1 s"));
}

}  // namespace
}  // namespace coldbay::print_pdf_test
