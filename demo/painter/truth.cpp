#include "truth.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "verso.hpp"

namespace tedge::painter {
namespace {

using nlohmann::json;

double rounded(double value) {
    return std::round(value * 1e6) / 1e6;
}
json pair(double x, double y) {
    return json::array({rounded(x), rounded(y)});
}
json pair(PointMm p) {
    return pair(p.x_mm, p.y_mm);
}
json pair(PointPx p) {
    return pair(p.x_px, p.y_px);
}
json list(Rgb c) {
    return json::array({static_cast<double>(c.r), static_cast<double>(c.g), static_cast<double>(c.b)});
}

json outline(const Line& line) {
    json points = json::array();
    for (const PointMm& p : line) points.push_back(pair(p));
    return points;
}

json region(const std::string& name, const Line& line) {
    return {{"name", name}, {"outline_mm", outline(line)}, {"area_mm2", rounded(area_mm2(line))}};
}

json regions(const std::vector<Line>& lines) {
    json out = json::array();
    for (std::size_t i = 0; i < lines.size(); ++i) out.push_back(region(std::to_string(i + 1), lines[i]));
    return out;
}

json recto_regions(const Damage& d) {
    json losses = json::array();
    for (const Loss& loss : d.losses) {
        json one = region(loss.name, loss.outline);
        one["down_to"] = loss.to_canvas ? "canvas" : "ground";
        losses.push_back(std::move(one));
    }
    json trials = json::array();
    for (const TrialWindow& trial : d.trials) {
        json one = region(trial.name, trial.outline);
        one["passage"] = trial.passage;
        one["treatment"] = trial.treatment;
        one["dirt_left"] = trial.dirt_left;
        one["varnish_left"] = trial.varnish_left;
        trials.push_back(std::move(one));
    }
    return {{"losses", losses},
            {"flaking_zones", regions(d.flaking_zones)},
            {"facing_papers", regions(d.facing_papers)},
            {"tear_line_mm", outline(d.tear)},
            {"overpaint", region("overpaint", d.overpaint)},
            {"old_retouchings", regions(d.retouchings)},
            {"blanching", region("blanching", d.blanching)},
            {"trials", trials},
            {"cleaned_half", region("cleaned half", d.cleaned_half)},
            {"witness", region("witness patch", d.witness)},
            {"signature", region("E. Quillfeather 1847", d.signature_box)}};
}

json verso_regions() {
    const VersoTruth truth = verso_truth();
    json marks = json::array();
    for (const VersoMark& mark : truth.marks) {
        json one = region(mark.what, mark.box);
        one["text"] = mark.text;
        marks.push_back(std::move(one));
    }
    return {{"marks", marks},
            {"patch", region("patch", truth.patch)},
            {"strainer_bars", regions(truth.bars)},
            {"threads_per_cm", {{"warp_upright", truth.warp_per_cm}, {"weft_level", truth.weft_per_cm}}}};
}

json coatings(const Surface& s) {
    json samples = json::array();
    for (double y = 20.0; y < face_size.height_mm; y += 60.0)
        for (double x = 20.0; x < face_size.width_mm; x += 70.0) {
            const auto fx = static_cast<float>(x), fy = static_cast<float>(y);
            samples.push_back({{"at_mm", pair(x, y)},
                               {"varnish_um", rounded(static_cast<double>(s.varnish_um.at(fx, fy)))},
                               {"dirt_um", rounded(static_cast<double>(s.dirt_um.at(fx, fy)))},
                               {"clouded_share", rounded(static_cast<double>(s.cloud.at(fx, fy)))}});
        }
    const auto matter = [](const Matter& m) {
        return json{{"absorption_per_um_rgb", list(m.absorption_per_um)}, {"scattered_rgb", list(m.scattered)}};
    };
    return {{"law", "light passes twice: exp(-2 absorption thickness) for each of linear red, green and blue"},
            {"aged_varnish", matter(aged_varnish)},
            {"fresh_varnish", matter(fresh_varnish)},
            {"surface_dirt", matter(surface_dirt)},
            {"samples", samples}};
}

json displacement(const BsplineDisplacement& d) {
    json coefficients = json::array();
    for (const PointMm& c : d.coefficients_mm()) coefficients.push_back(json::array({c.x_mm, c.y_mm}));
    return {{"kind", "uniform cubic B-spline"},
            {"origin_mm", pair(d.origin())},
            {"spacing_mm", d.spacing_mm()},
            {"columns", d.columns()},
            {"rows", d.rows()},
            {"coefficients_mm", coefficients}};
}

// Where places of the photograph lie on the face: on the canvas as received, and for a lined canvas also where they lie
// now.
json points(const Photograph& p, const Camera& camera) {
    json out = json::array();
    const BsplineDisplacement moved = old_from_new_lining();
    for (int row = 0; row < 9; ++row)
        for (int column = 0; column < 13; ++column) {
            const PointPx at{std::round((column + 0.5) / 13.0 * p.size.width_px),
                             std::round((row + 0.5) / 9.0 * p.size.height_px)};
            const PointMm now = camera.to_face(at);
            if (now.x_mm < 0.0 || now.y_mm < 0.0 || now.x_mm > face_size.width_mm || now.y_mm > face_size.height_mm)
                continue;
            const PointMm by = p.lined() ? moved.at(now) : PointMm{};
            out.push_back({{"photo_px", pair(at)},
                           {"face_mm", pair(now.x_mm + by.x_mm, now.y_mm + by.y_mm)},
                           {"face_now_mm", pair(now)}});
        }
    return out;
}

json chart(const Camera& camera) {
    const Card card{Grid::over(chart_size, 1.0), {}, chart_place, 0.0};
    json patches = json::array();
    for (int patch = 0; patch < 24; ++patch)
        patches.push_back(pair(camera.to_photo(card.to_face(chart_patch_middle(patch)))));
    json corners = json::array();
    for (const PointMm corner : {PointMm{0, 0}, PointMm{chart_size.width_mm, 0},
                                 PointMm{chart_size.width_mm, chart_size.height_mm}, PointMm{0, chart_size.height_mm}})
        corners.push_back(pair(camera.to_photo(card.to_face(corner))));
    return {{"corners_px", corners}, {"patch_middles_px", patches}};
}

json scale(const Camera& camera) {
    const PointMm zero{scale_place.x_mm + scale_zero_mm, scale_place.y_mm + 0.5 * scale_line_mm};
    const PointMm end{zero.x_mm + scale_length_mm, zero.y_mm};
    return {{"length_mm", scale_length_mm},
            {"zero_px", pair(camera.to_photo(zero))},
            {"end_px", pair(camera.to_photo(end))}};
}

json photograph(const Photograph& p) {
    const Camera camera = camera_of(p);
    json corners = json::array();
    for (const PointMm corner : {PointMm{0, 0}, PointMm{face_size.width_mm, 0},
                                 PointMm{face_size.width_mm, face_size.height_mm}, PointMm{0, face_size.height_mm}})
        corners.push_back(pair(camera.to_photo(corner)));
    json out = {{"file", p.file},
                {"face", p.face},
                {"light", p.light},
                {"when", p.when},
                {"about", p.about},
                {"taken_at", p.taken_at},
                {"width_px", p.size.width_px},
                {"height_px", p.size.height_px},
                {"orientation_in_file", p.orientation},
                {"lens",
                 {{"model", "Brown 1971, photo to undistorted"},
                  {"centre_px", pair(camera.lens.centre_x_px, camera.lens.centre_y_px)},
                  {"focal_px", camera.lens.focal_px},
                  {"k1", camera.lens.k1},
                  {"k2", camera.lens.k2},
                  {"p1", camera.lens.p1},
                  {"p2", camera.lens.p2}}},
                {"face_from_undistorted", camera.face_from_undistorted.row_major()},
                {"on_lined_canvas", p.lined()},
                {"face_corners_px", corners},
                {"points", points(p, camera)},
                {"px_per_mm_at_middle", p.pose.px_per_mm}};
    if (p.with_chart) {
        out["chart"] = chart(camera);
        out["scale"] = scale(camera);
    }
    return out;
}

}  // namespace

std::string truth_json(const Surface& surface, const std::vector<Photograph>& photographs) {
    json shots = json::array();
    for (const Photograph& p : photographs) shots.push_back(photograph(p));
    const json truth = {
        {"title", "The Mill at Otter Reach"},
        {"face_mm", {{"width", face_size.width_mm}, {"height", face_size.height_mm}}},
        {"recto", recto_regions(surface.damage)},
        {"verso", verso_regions()},
        {"cracks", {{"count", surface.cracks.size()}, {"length_mm", rounded(length_mm(surface.cracks))}}},
        {"coatings", coatings(surface)},
        {"lining_old_from_new", displacement(old_from_new_lining())},
        {"photographs", shots}};
    return truth.dump(1) + "\n";
}

}  // namespace tedge::painter
