#include "region_annotations.hpp"

#include <array>
#include <nlohmann/json.hpp>

#include "field_text.hpp"
#include "placed_photographs.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::dossier {

using casebook::Record;
using nlohmann::json;

namespace {

constexpr std::array<std::string_view, 4> placed_kinds{"finding", "trial", "inscription", "facing"};

class SvgShape {
public:
    SvgShape(SizePx photo, SizePx file)
        : scale_x_(static_cast<double>(file.width_px) / photo.width_px),
          scale_y_(static_cast<double>(file.height_px) / photo.height_px) {}

    std::string of(const PictureMark& mark) const {
        std::string rings;
        for (const auto& ring : mark.rings) rings += path(ring) + "Z";
        std::string lines;
        for (const auto& line : mark.lines) lines += path(line);
        std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\">";
        if (!rings.empty()) svg += "<path fill-rule=\"evenodd\" d=\"" + rings + "\"/>";
        if (!lines.empty()) svg += "<path fill=\"none\" d=\"" + lines + "\"/>";
        for (const auto& point : mark.points)
            svg += "<circle cx=\"" + x(point) + "\" cy=\"" + y(point) + "\" r=\"1\"/>";
        return svg + "</svg>";
    }

private:
    // Ours counts from the centre of a pixel, SVG from its corner.
    std::string x(PointPx point) const { return format_fixed((point.x_px + 0.5) * scale_x_, 2); }
    std::string y(PointPx point) const { return format_fixed((point.y_px + 0.5) * scale_y_, 2); }

    std::string path(const std::vector<PointPx>& points) const {
        std::string text;
        for (const auto& point : points) text += (text.empty() ? "M" : "L") + x(point) + "," + y(point);
        return text;
    }

    double scale_x_;
    double scale_y_;
};

std::string body_text(const Extract& extract, const Record& placed) {
    std::string text;
    for (const auto& [label, value] : labelled_values(extract, placed, {"face_frame"}))
        text += (text.empty() ? "" : "\n") + label + ": " + value;
    return text;
}

}  // namespace

std::optional<std::string> annotation_page(const Extract& extract, const Record& photograph,
                                           const std::string& picture_file, SizePx file_size) {
    const SizePx photo{static_cast<int>(photograph.body.integer("width_px").value_or(0)),
                       static_cast<int>(photograph.body.integer("height_px").value_or(0))};
    if (photo.width_px <= 0 || photo.height_px <= 0) return std::nullopt;
    const SvgShape shape(photo, file_size);
    json items = json::array();
    for (const auto kind : placed_kinds)
        for (const Record* placed : extract.of_kind(kind)) {
            const auto mark = mark_in_photograph(extract, *placed, photograph);
            if (!mark) continue;
            items.push_back({{"id", "urn:uuid:" + to_text(placed->id) + "#on-" + to_text(photograph.id)},
                             {"type", "Annotation"},
                             {"motivation", "describing"},
                             {"body",
                              {{"type", "TextualBody"},
                               {"format", "text/plain"},
                               {"language", "en"},
                               {"value", body_text(extract, *placed)}}},
                             {"target",
                              {{"source", "../" + picture_file},
                               {"selector", {{"type", "SvgSelector"}, {"value", shape.of(*mark)}}}}}});
        }
    if (items.empty()) return std::nullopt;
    const json page{{"@context", "http://www.w3.org/ns/anno.jsonld"},
                    {"id", "urn:uuid:" + to_text(photograph.id) + "#annotations"},
                    {"type", "AnnotationPage"},
                    {"items", std::move(items)}};
    return page.dump(1) + "\n";
}

}  // namespace tedge::dossier
