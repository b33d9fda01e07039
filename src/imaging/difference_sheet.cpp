#include "tedge/imaging/difference_sheet.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <utility>

namespace tedge::imaging {
namespace {

constexpr int font = cv::FONT_HERSHEY_SIMPLEX;  // knows ASCII alone
const cv::Scalar ink(35, 38, 43);

std::string in_ascii(std::string text) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 8> forms{
        {{"Δ", "d"}, {"±", "+/-"}, {"≥", ">="}, {"≤", "<="}, {"−", "-"}, {"²", "2"}, {"“", "\""}, {"”", "\""}}};
    for (const auto& [from, to] : forms) {
        for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
            text.replace(at, from.size(), to);
    }
    std::string out;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x80) out += c;
        if (byte >= 0xC0) out += '?';  // the first byte of a letter; those that follow go with it
    }
    return out;
}

// Sizes follow the width, so that a print of the whole sheet can be read.
struct Layout {
    double scale = 0.5;
    int line_px = 20;
    int margin_px = 10;

    explicit Layout(int width_px)
        : scale(std::clamp(width_px / 1600.0, 0.35, 3.0)),
          line_px(static_cast<int>(std::lround(34 * scale))),
          margin_px(static_cast<int>(std::lround(16 * scale))) {}
    [[nodiscard]] int stroke() const { return std::max(1, static_cast<int>(std::lround(scale * 1.4))); }
    [[nodiscard]] int width_of(const std::string& text) const {
        int below = 0;
        return cv::getTextSize(text, font, scale, stroke(), &below).width;
    }
};

std::vector<std::string> broken(const std::string& line, int width_px, const Layout& layout) {
    std::vector<std::string> out;
    std::string now;
    std::size_t at = 0;
    while (at <= line.size()) {
        const std::size_t end = std::min(line.find(' ', at), line.size());
        const std::string word = line.substr(at, end - at);
        const std::string longer = now.empty() ? word : now + " " + word;
        if (!now.empty() && layout.width_of(longer) > width_px) {
            out.push_back(std::exchange(now, word));
        } else {
            now = longer;
        }
        at = end + 1;
    }
    if (!now.empty()) out.push_back(now);
    return out;
}

void write(cv::Mat& sheet, const std::string& text, int x, int baseline, const Layout& layout) {
    cv::putText(sheet, text, {x, baseline}, font, layout.scale, ink, layout.stroke(), cv::LINE_AA);
}

// The bar with its figures; those that would run into the one before are left out, the last one never.
void draw_scale(cv::Mat& sheet, const DifferenceScale& scale, const std::string& unit, int top, const Layout& layout) {
    const int unit_px = layout.width_of(unit) + layout.margin_px;
    const int bar_px = std::max(2, std::min(sheet.cols - 3 * layout.margin_px - unit_px, sheet.cols * 2 / 3));
    DifferenceLegend legend = legend_for(scale, {bar_px, layout.line_px / 2});
    const cv::Mat bar(legend.bar.height_px(), legend.bar.width_px(), CV_8UC3, legend.bar.samples().data());
    bar.copyTo(sheet(cv::Rect(layout.margin_px, top, bar.cols, bar.rows)));
    write(sheet, unit, layout.margin_px * 2 + bar_px, top + bar.rows, layout);
    int free_until = sheet.cols;
    for (auto tick = legend.ticks.rbegin(); tick != legend.ticks.rend(); ++tick) {
        const std::string label = in_ascii(tick->label);
        const int wide = layout.width_of(label);
        const int x = layout.margin_px + static_cast<int>(tick->position * (bar_px - 1));
        const int left = std::max(layout.margin_px / 2, x - wide / 2);
        if (left + wide + layout.margin_px / 2 > free_until) continue;
        free_until = left;
        cv::line(sheet, {x, top + bar.rows}, {x, top + bar.rows + layout.margin_px / 3}, ink, layout.stroke());
        write(sheet, label, left, top + bar.rows + layout.line_px, layout);
    }
}

}  // namespace

Raster8 with_legend(const Raster8& map, const DifferenceScale& scale, const std::string& unit,
                    const std::vector<std::string>& lines) {
    if (map.empty()) return map;
    const Layout layout(map.width_px());
    std::vector<std::string> rows;
    for (const std::string& line : lines) {
        for (std::string& row : broken(in_ascii(line), map.width_px() - 2 * layout.margin_px, layout))
            rows.push_back(std::move(row));
    }
    const int scale_px = 2 * layout.line_px + layout.margin_px;
    const int below = layout.margin_px + scale_px + static_cast<int>(rows.size()) * layout.line_px + layout.margin_px;
    Raster8 out(map.width_px(), map.height_px() + below, 3);
    std::ranges::fill(out.samples(), std::uint8_t{255});
    std::ranges::copy(map.samples(), out.samples().begin());
    cv::Mat sheet(out.height_px(), out.width_px(), CV_8UC3, out.samples().data());
    const int top = map.height_px() + layout.margin_px;
    draw_scale(sheet, scale, in_ascii(unit), top, layout);
    for (std::size_t i = 0; i < rows.size(); ++i)
        write(sheet, rows[i], layout.margin_px,
              top + scale_px + static_cast<int>(i + 1) * layout.line_px - layout.margin_px, layout);
    return out;
}

}  // namespace tedge::imaging
