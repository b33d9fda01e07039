// One's own measured chart from a CGATS text.
#include <algorithm>
#include <map>
#include <optional>
#include <vector>

#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/imaging/chart_reference.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t most_bytes = 4U << 20U;
constexpr double farthest_mean_delta_e00 = 20.0;

using Words = std::vector<std::string>;

// Words of a line; quotes keep blanks together, "#" starts a remark.
Words words_of(std::string_view line) {
    Words words;
    std::string word;
    bool quoted = false;
    bool any = false;
    for (const char c : line) {
        if (c == '"') {
            quoted = !quoted;
            any = true;
        } else if (!quoted && c == '#') {
            break;
        } else if (!quoted && (c == ' ' || c == '\t' || c == '\r')) {
            if (any) words.push_back(std::move(word));
            word.clear();
            any = false;
        } else {
            word += c;
            any = true;
        }
    }
    if (any) words.push_back(std::move(word));
    return words;
}

struct Cgats {
    Words columns;
    std::vector<Words> rows;
    std::map<std::string, std::string> says;  // ORIGINATOR, DESCRIPTOR, …
    std::string other_light{};                // the illuminant or observer that it names, where that is another
};

// "WEIGHTING_FUNCTION "ILLUMINANT, D65"", "ILLUMINATION_NAME D65", "OBSERVER "10 degree"": what they name, unless it is
// D50 and 2°. The words are those of the standard and of measuring programs (from memory).
std::string other_light_in(const std::string& key, const std::string& value) {
    const bool about_light = key.starts_with("ILLUMIN") || key.starts_with("OBSERVER") || key == "WEIGHTING_FUNCTION";
    if (!about_light) return {};
    const std::string said = lowered_ascii(key + " " + value);
    const std::size_t d = said.find_first_of("0123456789");
    if (d == std::string::npos) return {};
    const std::string number = said.substr(d, said.find_first_not_of("0123456789", d) - d);
    if (said.find("illumin") != std::string::npos && said[d - 1] == 'd' && number != "50") return "D" + number;
    return said.find("observer") != std::string::npos && number == "10" ? "the 10° observer" : std::string();
}

enum class Part { head, format, data, end };

// What a file may break: words of one row may run over several lines, so they are gathered and cut by the columns.
std::optional<Cgats> parsed(std::string_view text) {
    Cgats out;
    Words data;
    Part part = Part::head;
    for (const std::string_view line : split(text, '\n')) {
        const Words words = words_of(line);
        if (words.empty()) continue;
        const std::string& first = words.front();
        if (first == "BEGIN_DATA_FORMAT" && out.columns.empty()) {
            part = Part::format;
        } else if (first == "END_DATA_FORMAT") {
            part = Part::head;
        } else if (first == "BEGIN_DATA") {
            part = Part::data;
        } else if (first == "END_DATA") {
            part = Part::end;
            break;
        } else if (part == Part::format) {
            out.columns.insert(out.columns.end(), words.begin(), words.end());
        } else if (part == Part::data) {
            data.insert(data.end(), words.begin(), words.end());
        } else if (words.size() > 1) {
            out.says[first] = words[1];
            if (out.other_light.empty()) out.other_light = other_light_in(first, words[1]);
        }
    }
    if (part != Part::end || out.columns.empty() || data.empty() || data.size() % out.columns.size() != 0)
        return std::nullopt;
    const auto width = static_cast<std::ptrdiff_t>(out.columns.size());
    for (auto at = data.begin(); at != data.end(); at += width) out.rows.emplace_back(at, at + width);
    return out;
}

std::optional<std::size_t> column(const Cgats& cgats, std::string_view name) {
    const auto found = std::ranges::find(cgats.columns, name);
    if (found == cgats.columns.end()) return std::nullopt;
    return static_cast<std::size_t>(found - cgats.columns.begin());
}

// "A1", "a01", "13": the patch from 0, or nothing.
std::optional<std::size_t> patch_named(const std::string& name) {
    const std::string lower = lowered_ascii(name);
    if (lower.empty()) return std::nullopt;
    const bool lettered = lower[0] >= 'a' && lower[0] <= 'd';
    std::string_view digits = std::string_view(lower).substr(lettered ? 1 : 0);
    while (digits.size() > 1 && digits.front() == '0') digits.remove_prefix(1);
    const auto number = parse_integer(digits);
    if (!number) return std::nullopt;
    const std::int64_t last = lettered ? std::int64_t{chart_columns} : std::int64_t{chart_patches};
    if (*number < 1 || *number > last) return std::nullopt;
    const std::size_t row = lettered ? static_cast<std::size_t>(lower[0] - 'a') : 0;
    return row * chart_columns + static_cast<std::size_t>(*number) - 1;
}

// Patch of each row, or nothing when the names are other than this chart's.
std::optional<std::vector<std::size_t>> patches_by_name(const Cgats& cgats) {
    for (const char* key : {"SAMPLE_ID", "SAMPLE_LOC", "SAMPLE_NAME", "SampleID", "SampleName"}) {
        const auto at = column(cgats, key);
        if (!at) continue;
        std::vector<std::size_t> patches;
        for (const Words& row : cgats.rows)
            if (const auto patch = patch_named(row[*at])) patches.push_back(*patch);
        if (patches.size() == cgats.rows.size()) return patches;
    }
    return std::nullopt;
}

struct ColourColumns {
    std::array<std::size_t, 3> at{};
    bool lab = true;
};

std::optional<ColourColumns> colour_columns(const Cgats& cgats) {
    for (const bool lab : {true, false}) {
        const auto first = column(cgats, lab ? "LAB_L" : "XYZ_X");
        const auto second = column(cgats, lab ? "LAB_A" : "XYZ_Y");
        const auto third = column(cgats, lab ? "LAB_B" : "XYZ_Z");
        if (first && second && third) return ColourColumns{{*first, *second, *third}, lab};
    }
    return std::nullopt;
}

Expected<Lab> lab_of(const Words& row, const ColourColumns& columns) {
    std::array<double, 3> values{};
    for (std::size_t i = 0; i < 3; ++i) {
        const auto number = parse_number(row[columns.at[i]]);
        if (!number)
            return fail("chart-reference.not-a-number", "“" + row[columns.at[i]] + "” in the chart file is no number.",
                        "Export the measurements again as CGATS text with points as decimal marks.",
                        {{"text", row[columns.at[i]]}});
        values[i] = *number;
    }
    if (columns.lab) return Lab{values[0], values[1], values[2]};
    return lab_from_xyz({values[0] / 100.0, values[1] / 100.0, values[2] / 100.0});
}

std::string said(const Cgats& cgats) {
    std::vector<std::string> parts;
    for (const char* key : {"DESCRIPTOR", "ORIGINATOR", "CREATED", "SERIAL", "PROD_DATE"})
        if (const auto found = cgats.says.find(key); found != cgats.says.end()) parts.push_back(found->second);
    return parts.empty() ? "the file does not say who measured it or when" : join(parts, "; ");
}

Expected<ChartReference> near_the_published(ChartReference own) {
    double sum = 0.0;
    const auto& published = chart_reference(ChartEdition::maker_2005);
    for (std::size_t i = 0; i < chart_patches; ++i) sum += delta_e00(own.lab[i], published.lab[i]);
    if (!(sum / chart_patches <= farthest_mean_delta_e00))
        return fail("chart-reference.not-this-chart", "The figures in the file are not those of a 24-patch chart.",
                    "Take the file of the 24-patch chart, patches in rows from dark skin to black.");
    return own;
}

}  // namespace

Expected<ChartReference> chart_reference_from_cgats(std::string_view text) {
    const auto cgats = parsed(text);
    if (!cgats)
        return fail("chart-reference.not-cgats", "The file is no whole CGATS table.",
                    "Export the measured chart as CGATS text (ISO 28178) and take that.");
    const auto columns = colour_columns(*cgats);
    if (!columns)
        return fail("chart-reference.no-colours", "The file has neither LAB nor XYZ columns.",
                    "Export the chart with LAB_L, LAB_A and LAB_B (D50, 2°).");
    if (!cgats->other_light.empty())
        return fail("chart-reference.other-light", "The figures in the file are for " + cgats->other_light + ".",
                    "Export the measured chart for D50 and the 2° observer.", {{"light", cgats->other_light}});
    const auto refused = [] {
        return fail("chart-reference.patches", "The file does not hold each of the 24 patches once.",
                    "Name the patches A1 to D6 or 1 to 24 in rows from dark skin to black.");
    };
    if (cgats->rows.size() != chart_patches) return refused();
    const auto patches = patches_by_name(*cgats);
    ChartReference own{
        .id = "own", .title = "one's own measured chart", .source = said(*cgats), .status = "as measured"};
    std::array<bool, chart_patches> seen{};
    for (std::size_t i = 0; i < chart_patches; ++i) {
        const std::size_t patch = patches ? (*patches)[i] : i;
        if (seen[patch]) return refused();
        seen[patch] = true;
        const auto lab = lab_of(cgats->rows[i], *columns);
        if (!lab) return pass_on(lab);
        own.lab[patch] = *lab;
    }
    return near_the_published(std::move(own));
}

Expected<ChartReference> read_chart_reference(const std::filesystem::path& file) {
    const auto text = read_file(file, most_bytes);
    if (!text) return pass_on(text);
    return chart_reference_from_cgats(*text);
}

}  // namespace tedge::imaging
