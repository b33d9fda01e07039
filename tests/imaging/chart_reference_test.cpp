// Editions of the reference values against what others publish, and CGATS files.
#include "tedge/imaging/chart_reference.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

#include "tedge/base/number_text.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

struct Apart {
    double mean = 0.0;
    double max = 0.0;
};

Apart apart(const ChartReference& a, const ChartReference& b) {
    Apart out;
    for (std::size_t i = 0; i < chart_patches; ++i) {
        const double d = delta_e00(a.lab[i], b.lab[i]);
        out.mean += d / chart_patches;
        out.max = std::max(out.max, d);
    }
    return out;
}

std::string cgats_of(const ChartReference& reference, bool xyz) {
    std::string text = "CGATS.17\nORIGINATOR \"a bench\"\n# measured at home\nNUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\n";
    text += xyz ? "SAMPLE_ID XYZ_X XYZ_Y XYZ_Z\n" : "SAMPLE_ID LAB_L LAB_A LAB_B\n";
    text += "END_DATA_FORMAT\nNUMBER_OF_SETS 24\nBEGIN_DATA\n";
    for (std::size_t i = chart_patches; i-- > 0;) {  // last row first: the names count, not the order
        const Xyz at = xyz_from_lab(reference.lab[i]);
        const Lab& lab = reference.lab[i];
        const std::array<double, 3> v =
            xyz ? std::array{at.x * 100, at.y * 100, at.z * 100} : std::array{lab.l, lab.a, lab.b};
        text += std::string(1, static_cast<char>('A' + i / 6)) + format_number(static_cast<double>(i % 6 + 1)) + "\t" +
                format_number(v[0]) + "\t" + format_number(v[1]) + " " + format_number(v[2]) + "\r\n";
    }
    return text + "END_DATA\n";
}

}  // namespace

TEST_CASE("Blue sky has the maker's b*, not the misprint that several public copies carry") {
    // Printed -21.905 in several copies; -21.93 in Debian's argyll-ref, -21.925 in the table inside OpenCV's mcc.
    const auto& reference = chart_reference(ChartEdition::maker_2005);
    CHECK(chart_patch_names()[2] == "blue sky");
    CHECK(reference.lab[2].b == -21.925);
    CHECK(reference.lab[2].l == 49.927);
}

TEST_CASE("Editions differ by what comparing them gives") {
    const auto& old = chart_reference(ChartEdition::maker_2005);
    // ΔE00 computed independently of this program from the same publications: 0.85 / 1.95 and 0.49 / 1.13.
    const Apart late = apart(old, chart_reference(ChartEdition::maker_2014));
    CHECK(late.mean == Approx(0.85).margin(0.005));
    CHECK(late.max == Approx(1.95).margin(0.005));
    const Apart average = apart(old, chart_reference(ChartEdition::average_of_thirty));
    CHECK(average.mean == Approx(0.49).margin(0.005));
    CHECK(average.max == Approx(1.13).margin(0.005));
    CHECK(chart_reference("maker-2014").value().id == "maker-2014");
    CHECK(chart_reference("newest").error().code == "chart-reference.unknown");
}

TEST_CASE("One's own chart is read from CGATS text, Lab or XYZ, in any order of rows") {
    const auto& reference = chart_reference(ChartEdition::maker_2014);
    for (const bool xyz : {false, true}) {
        const auto own = chart_reference_from_cgats(cgats_of(reference, xyz));
        REQUIRE(own);
        CHECK(apart(*own, reference).max < 1e-6);
        CHECK(own->id == "own");
        CHECK(own->source == "a bench");
    }
}

TEST_CASE("CGATS texts that are not this chart are refused") {
    const std::string good = cgats_of(chart_reference(ChartEdition::maker_2005), false);
    const auto code = [](const std::string& text) { return chart_reference_from_cgats(text).error().code; };
    CHECK(code("") == "chart-reference.not-cgats");
    CHECK(code(good.substr(0, good.size() - 40)) == "chart-reference.not-cgats");
    const auto with = [&good](const std::string& what, const std::string& by) {
        std::string text = good;
        text.replace(text.find(what), what.size(), by);
        return text;
    };
    CHECK(code(with("LAB_L", "CMYK_C")) == "chart-reference.no-colours");
    CHECK(code(with("B2\t", "B3\t")) == "chart-reference.patches");
    CHECK(code(with("49.927", "49,927")) == "chart-reference.not-a-number");
    // Rows named the other way round: a chart read from its far end.
    std::string turned = good;
    for (char& c : turned)
        if (c >= 'A' && c <= 'D' && (&c)[1] >= '1' && (&c)[1] <= '6' && (&c)[2] == '\t')
            c = static_cast<char>('A' + 'D' - c);
    CHECK(code(turned) == "chart-reference.not-this-chart");
    CHECK(read_chart_reference("/nowhere/chart.txt").error().code == "files.missing");
}

TEST_CASE("Figures for another light or observer are refused, for they are compared as those of D50 and 2°") {
    const std::string good = cgats_of(chart_reference(ChartEdition::maker_2005), false);
    const auto with_line = [&good](const std::string& line) {
        std::string text = good;
        return chart_reference_from_cgats(text.insert(text.find("BEGIN_DATA_FORMAT"), line + "\n"));
    };
    for (const char* line : {"WEIGHTING_FUNCTION \"ILLUMINANT, D65\"", "ILLUMINATION_NAME\t\"D65\"", "ILLUMINANT D65",
                             "WEIGHTING_FUNCTION \"OBSERVER, 10 degree\"", "OBSERVER \"10\""}) {
        CAPTURE(line);
        const auto other = with_line(line);
        REQUIRE_FALSE(other);
        CHECK(other.error().code == "chart-reference.other-light");
    }
    for (const char* line :
         {"WEIGHTING_FUNCTION \"ILLUMINANT, D50\"", "ILLUMINATION_NAME \"D50\"", "OBSERVER \"2\"",
          "WEIGHTING_FUNCTION \"OBSERVER, 2 degree\"", "MEASUREMENT_GEOMETRY \"45/0\"", "ILLUMINANT_WHITE_POINT"}) {
        CAPTURE(line);
        CHECK(with_line(line));
    }
}

TEST_CASE("Debian's file of the same chart agrees to its two decimals") {
    // Package argyll-ref. It is not needed: without it nothing is checked.
    const std::filesystem::path file = "/usr/share/color/argyll/ref/ColorChecker.cie";
    if (!std::filesystem::exists(file)) {
        WARN("argyll-ref is not installed: its file was not compared");
        return;
    }
    const auto read = read_chart_reference(file);
    REQUIRE(read);
    const auto& ours = chart_reference(ChartEdition::maker_2005);
    for (std::size_t i = 0; i < chart_patches; ++i) {
        CAPTURE(i);
        CHECK(read->lab[i].l == Approx(ours.lab[i].l).margin(0.0061));
        CHECK(read->lab[i].a == Approx(ours.lab[i].a).margin(0.0061));
        CHECK(read->lab[i].b == Approx(ours.lab[i].b).margin(0.0061));
    }
}
