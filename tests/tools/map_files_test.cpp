#include "tools/report/map_files.hpp"

#include <gtest/gtest.h>
#include <tiffio.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <limits>
#include <locale>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>
#include <sstream>
#include <string>

namespace coldbay::map_files_test {
namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
const MapOrigin origin{"Übungswand, −9 °C -- <b>&", "the room face as built", "coldbay 0.1.0",
                       "wall.yaml sha256 0a1b"};

/// 3 x 2 pixels of 5 x 10 mm, one of which sees no wall.
ThermalMap small_map() {
  return {{0.1, 0.115}, {1.0, 1.02}, 3, 2, {18.25, -0.00001, 17.5, nothing, -3.123456, 1e-3}, false};
}

std::string text_of(const OutputFile& file) { return {file.bytes.begin(), file.bytes.end()}; }

TEST(MapFiles, CsvIsReadByHand) {
  // RFC 4180: lines end in CR LF, fields are parted by commas; written out by hand.
  EXPECT_EQ(text_of(map_as_csv(small_map(), "face.csv")),
            "across [m],up [m],temperature [°C]\r\n"
            "0.102500,1.015000,18.2500\r\n"
            "0.107500,1.015000,0.0000\r\n"
            "0.112500,1.015000,17.5000\r\n"
            "0.102500,1.005000,\r\n"
            "0.107500,1.005000,-3.1235\r\n"
            "0.112500,1.005000,0.0010\r\n");
}

/// As in much of Europe: 1.234,5. Made here, so that no locale need be installed.
class CommaDecimals : public std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST(MapFiles, NumbersHaveAPointWhateverTheLocale) {
  const auto all = [] {
    ConductivityGrid grid{{{Axis({0.0, 0.125}), Axis({0.0, 1.0}), Axis({0.0, 1234.5})}}, {}, {}, {}};
    grid.conductivity[0] = grid.conductivity[2] = {0.035};
    return text_of(map_as_csv(small_map(), "")) + text_of(map_as_tiff(small_map(), origin, "")) +
           text_of(section_as_vtr(grid, {{1234.5}, {}}, origin, ""));
  };
  const std::string before = all();
  const std::locale locale = std::locale::global(std::locale(std::locale::classic(), new CommaDecimals));
  const std::string after = all();
  std::locale::global(locale);
  EXPECT_EQ(before, after);
}

/// A file for libtiff to read, gone again at the end.
class TemporaryFile {
 public:
  explicit TemporaryFile(const std::vector<std::uint8_t>& bytes)
      : path_(testing::TempDir() + "coldbay-map-test.tif") {
    std::ofstream(path_, std::ios::binary)
        .write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
  }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  ~TemporaryFile() { std::remove(path_.c_str()); }
  const char* path() const { return path_.c_str(); }

 private:
  std::string path_;
};

TEST(MapFiles, TiffIsReadBackByItsLibrary) {
  const ThermalMap map = small_map();
  const OutputFile file = map_as_tiff(map, origin, "face.tif");
  EXPECT_EQ(file.name, "face.tif");
  const TemporaryFile written(file.bytes);
  TIFF* tiff = TIFFOpen(written.path(), "r");
  ASSERT_NE(tiff, nullptr);
  std::uint32_t width = 0, height = 0;
  std::uint16_t bits = 0, format = 0, samples = 0, unit = 0, orientation = 0;
  float across = 0.0F, up = 0.0F;
  char *description = nullptr, *software = nullptr, *date = nullptr;
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_IMAGEWIDTH, &width), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_IMAGELENGTH, &height), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_BITSPERSAMPLE, &bits), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_SAMPLEFORMAT, &format), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_SAMPLESPERPIXEL, &samples), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_RESOLUTIONUNIT, &unit), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_ORIENTATION, &orientation), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_XRESOLUTION, &across), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_YRESOLUTION, &up), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_IMAGEDESCRIPTION, &description), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_SOFTWARE, &software), 1);
  EXPECT_EQ(TIFFGetField(tiff, TIFFTAG_DATETIME, &date), 0);  // else no two runs were alike
  EXPECT_EQ(width, 3U);
  EXPECT_EQ(height, 2U);
  EXPECT_EQ(bits, 32);
  EXPECT_EQ(format, SAMPLEFORMAT_IEEEFP);
  EXPECT_EQ(samples, 1);
  EXPECT_EQ(unit, RESUNIT_CENTIMETER);
  EXPECT_EQ(orientation, ORIENTATION_TOPLEFT);
  constexpr float rational = 1e-6F;  // a resolution is stored as a fraction
  EXPECT_NEAR(across, 2.0F, rational);
  EXPECT_NEAR(up, 1.0F, rational);
  EXPECT_STREQ(software, "coldbay 0.1.0");
  const std::string words(description);
  for (const char c : words)
    EXPECT_LT(static_cast<unsigned char>(c), 0x80) << words;  // TIFF 6.0: 7-bit ASCII
  const auto json = nlohmann::json::parse(words);
  EXPECT_EQ(json["title"], origin.title);
  EXPECT_EQ(json["unit"], "degC");
  EXPECT_NEAR(json["pixel across, up [mm]"][1].get<double>(), 10.0, 1e-9);  // a difference of decimals
  for (std::uint32_t row = 0; row < height; ++row) {
    std::array<float, 3> line{};
    ASSERT_EQ(TIFFReadScanline(tiff, line.data(), row), 1);
    for (std::size_t i = 0; i < 3; ++i) {
      const auto wanted = static_cast<float>(map.celsius[i + 3 * row]);
      if (std::isnan(wanted))
        EXPECT_TRUE(std::isnan(line[i]));
      else
        EXPECT_EQ(line[i], wanted);
    }
  }
  TIFFClose(tiff);
}

TEST(MapFiles, VtrIsReadBackAsXml) {
  ConductivityGrid grid{
      {{Axis({0.0, 0.038, 0.4}), Axis({0.0, 1.0}), Axis({0.0, 0.0125, 0.1015, 0.12})}}, {}, {}, {}};
  grid.conductivity[0] = {0.2, 0.2, 0.12, 1.0 / 30.0, 0.1, 0.1};
  grid.conductivity[2] = {0.2, 0.2, 0.12, 0.035, 0.1, 0.1};
  const TemperatureField field{{19.0, 19.3, 9.75, 1.0 / 3.0, 0.1, -0.7}, {}};
  const OutputFile file = section_as_vtr(grid, field, origin, "section.vtr");
  pugi::xml_document document;
  const pugi::xml_parse_result read =
      document.load_buffer(file.bytes.data(), file.bytes.size(), pugi::parse_full, pugi::encoding_utf8);
  ASSERT_TRUE(read) << read.description();
  const pugi::xml_node root = document.child("VTKFile"), all = root.child("RectilinearGrid");
  EXPECT_STREQ(root.attribute("type").value(), "RectilinearGrid");
  // The VTK user's guide: an extent counts points, the last one included; 2 x 1 x 3 cells.
  EXPECT_STREQ(all.attribute("WholeExtent").value(), "0 2 0 1 0 3");
  EXPECT_STREQ(all.child("Piece").attribute("Extent").value(), "0 2 0 1 0 3");
  const auto numbers = [&](const char* group, const char* name) {
    const pugi::xml_node array = all.child("Piece").child(group).find_child_by_attribute("Name", name);
    EXPECT_STREQ(array.attribute("format").value(), "ascii") << name;
    std::istringstream text(array.text().get());
    std::vector<double> values;
    for (std::string word; text >> word;) values.push_back(std::strtod(word.c_str(), nullptr));
    return values;
  };
  EXPECT_EQ(numbers("CellData", "temperature"), field.celsius);  // the same doubles, not nearly
  EXPECT_EQ(numbers("CellData", "conductivity_across"), grid.conductivity[0]);
  EXPECT_EQ(numbers("CellData", "conductivity_depth"), grid.conductivity[2]);
  EXPECT_TRUE(
      all.child("Piece").child("CellData").find_child_by_attribute("Name", "conductivity_up").empty());
  EXPECT_EQ(numbers("Coordinates", "across"), grid.axis[0].edges());
  EXPECT_EQ(numbers("Coordinates", "up"), grid.axis[1].edges());
  EXPECT_EQ(numbers("Coordinates", "depth"), grid.axis[2].edges());
  // In the order of the axes: readers go by place, not by name.
  EXPECT_STREQ(all.child("Piece").child("Coordinates").first_child().attribute("Name").value(), "across");
}

TEST(MapFiles, KnowsItsOwnAndMakesThemAlike) {
  ConductivityGrid grid{{{Axis({0.0, 1.0}), Axis({0.0, 1.0}), Axis({0.0, 1.0})}}, {}, {}, {}};
  grid.conductivity[2] = {1.0};
  MapOrigin hostile = origin;
  hostile.title = "--><x>\x01\xFF\xC0 --- -";
  const auto make = [&](const MapOrigin& from) {
    return std::vector<OutputFile>{map_as_csv(small_map(), "a.csv"), map_as_tiff(small_map(), from, "a.tif"),
                                   section_as_vtr(grid, {{1.0}, {}}, from, "a.vtr")};
  };
  for (const MapOrigin& from : {origin, hostile}) {
    const auto first = make(from), second = make(from);
    for (std::size_t i = 0; i < first.size(); ++i) {
      EXPECT_EQ(first[i].bytes, second[i].bytes) << first[i].name;
      EXPECT_TRUE(is_map_file(first[i].bytes)) << first[i].name;
    }
    pugi::xml_document document;
    EXPECT_TRUE(document.load_buffer(first[2].bytes.data(), first[2].bytes.size(), pugi::parse_full));
  }
  MapOrigin other = origin;
  other.software = "another";
  EXPECT_FALSE(is_map_file(map_as_tiff(small_map(), other, "a.tif").bytes));
  EXPECT_FALSE(is_map_file({}));
  EXPECT_FALSE(is_map_file({'a', ',', 'b'}));
  EXPECT_FALSE(is_map_file({'I', 'I', '*', 0, 8, 0, 0, 0}));  // cut off
}

}  // namespace
}  // namespace coldbay::map_files_test
