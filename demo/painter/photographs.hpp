// The photographs of the demonstration: which, by whom, when, of what, with which camera.
#pragma once

#include <string>
#include <vector>

#include "camera.hpp"
#include "develop.hpp"
#include "scene.hpp"

namespace tedge::painter {

struct Photograph {
    std::string file;
    std::string face;   // words of the command line: recto, verso, …
    std::string light;  // normal, raking, ultraviolet, infrared
    std::string when;   // saleroom, as-received, faced, …
    std::string about;
    std::string taken_at;  // local time of the camera, ISO 8601

    Stage stage = Stage::received;
    Light kind = Light::normal;
    bool verso = false;

    SizePx size{4920, 3280};  // as it is meant to be seen
    double focal_px = 8800.0;
    double k1 = 0.0, k2 = 0.0, p1 = 0.0, p2 = 0.0;
    Pose pose;
    Sensor sensor;
    double softness = 1.0;
    float exposure = 0.94F;
    Rgb cast{1.0F, 1.0F, 1.0F};
    float fall_x = 0.0F, fall_y = 0.0F;
    Rgb backdrop = grey(0.05F);

    bool telephone = false;
    bool with_chart = true;
    bool in_frame = false;
    bool plastered_wall = false;
    std::vector<Glare> glares;
    int orientation = 1;  // Exif orientation written into the file; the stored pixels are turned to suit
    int jpeg_quality = 94;
    bool sixteen_bit = false;

    [[nodiscard]] bool lined() const { return stage >= Stage::lined && !verso; }
};

// The whole set in the order of the story; `scale` makes every photograph smaller by that factor.
[[nodiscard]] std::vector<Photograph> all_photographs(double scale);

[[nodiscard]] Camera camera_of(const Photograph& photograph);

// Where chart and scale lie beside the picture, in mm of the face.
inline constexpr PointMm chart_place{632.0, 22.0};
inline constexpr PointMm scale_place{190.0, 479.0};

// The canvas as the liner left it: where each point of the face now lay before, up to about a millimetre away.
[[nodiscard]] BsplineDisplacement old_from_new_lining();

}  // namespace tedge::painter
