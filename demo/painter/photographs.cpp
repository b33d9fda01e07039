#include "photographs.hpp"

#include <cmath>

#include "random.hpp"

namespace tedge::painter {
namespace {

Sensor studio_sensor(std::uint32_t seed) {
    Sensor sensor;
    sensor.seed = seed;
    // A good camera after profiling: a few parts in a hundred of crosstalk are left, neutrals stay neutral.
    sensor.red = {1.030F, -0.022F, -0.008F};
    sensor.green = {-0.012F, 1.022F, -0.010F};
    sensor.blue = {0.004F, -0.030F, 1.026F};
    return sensor;
}

Sensor telephone_sensor(std::uint32_t seed) {
    Sensor sensor;
    sensor.seed = seed;
    sensor.full_well_e = 3200.0F;
    sensor.read_noise_e = 6.0F;
    sensor.red = {1.10F, -0.07F, -0.03F};
    sensor.green = {-0.03F, 1.06F, -0.03F};
    sensor.blue = {-0.02F, -0.10F, 1.12F};
    sensor.sharpening = 1.1F;
    sensor.contrast = 0.35F;
    sensor.saturation = 1.12F;
    return sensor;
}

// The photographer's stand: nearly square to the picture, never quite, and a little different each time.
Photograph studio(const char* file, const char* light, const char* when, const char* taken_at, Stage stage, Light kind,
                  std::uint32_t seed) {
    Photograph p;
    p.file = file;
    p.face = "recto";
    p.light = light;
    p.when = when;
    p.taken_at = taken_at;
    p.stage = stage;
    p.kind = kind;
    Dice dice(seed, 9U);
    p.k1 = 0.021 + 0.002 * static_cast<double>(dice.normal());
    p.k2 = -0.012;
    p.p1 = 0.0006 * static_cast<double>(dice.normal());
    p.p2 = 0.0006 * static_cast<double>(dice.normal());
    p.pose = {6.20 * (1.0 + 0.006 * static_cast<double>(dice.normal())),
              {369.0 + 3.0 * static_cast<double>(dice.normal()), 241.0 + 2.0 * static_cast<double>(dice.normal())},
              0.45 * static_cast<double>(dice.normal()),
              0.35 * static_cast<double>(dice.normal()),
              0.35 * static_cast<double>(dice.normal())};
    p.sensor = studio_sensor(seed);
    p.fall_x = 0.035F * dice.normal();
    p.fall_y = -0.04F;
    return p;
}

Photograph telephone(const char* file, const char* face, const char* taken_at, SizePx size, const Pose& pose,
                     std::uint32_t seed) {
    Photograph p;
    p.file = file;
    p.face = face;
    p.light = "normal";
    p.when = "saleroom";
    p.taken_at = taken_at;
    p.size = size;
    p.focal_px = 3150.0;
    p.k1 = 0.034;
    p.k2 = -0.021;
    p.p1 = 0.0011;
    p.p2 = -0.0008;
    p.pose = pose;
    p.sensor = telephone_sensor(seed);
    p.softness = 1.9;
    p.exposure = 0.86F;
    p.cast = {1.07F, 1.0F, 0.86F};
    p.fall_x = -0.18F;
    p.fall_y = -0.30F;
    p.backdrop = from_srgb(0xb9b2a4);
    p.telephone = true;
    p.with_chart = false;
    p.in_frame = true;
    p.plastered_wall = true;
    p.jpeg_quality = 84;
    return p;
}

void add_saleroom(std::vector<Photograph>& set) {
    Photograph p =
        studio("saleroom.jpg", "normal", "saleroom", "2025-03-02T10:12:00", Stage::received, Light::normal, 2001U);
    p.about = "The saleroom's own photograph, in the frame, with the glare of a window.";
    p.size = {4240, 2832};
    p.focal_px = 5200.0;
    p.pose = {4.05, {305.0, 226.0}, -2.6, 1.9, 0.6};
    p.with_chart = false;
    p.in_frame = true;
    p.plastered_wall = true;
    p.backdrop = from_srgb(0xa7a9a4);
    p.cast = {1.03F, 1.0F, 0.95F};
    p.fall_x = 0.10F;
    p.fall_y = -0.16F;
    p.sensor.full_well_e = 22000.0F;
    p.sensor.contrast = 0.2F;
    p.glares = {{{438.0, 96.0}, 44.0, 62.0, 9.0, 0.20F}, {{538.0, 112.0}, 36.0, 60.0, 9.0, 0.15F}};
    set.push_back(p);
}

void add_telephones(std::vector<Photograph>& set) {
    Photograph whole = telephone("telephone-1.jpg", "recto", "2025-03-04T15:41:00", {4032, 3024},
                                 {3.9, {315.0, 236.0}, 11.0, -7.0, 2.4}, 2011U);
    whole.about =
        "The viewer's telephone, the whole picture in its frame from the left and below, ceiling lamp in the varnish.";
    whole.glares = {{{196.0, 60.0}, 70.0, 26.0, -6.0, 0.34F}};
    set.push_back(whole);
    Photograph detail = telephone("telephone-2.jpg", "recto", "2025-03-04T15:43:00", {3024, 4032},
                                  {9.2, {118.0, 366.0}, -6.0, 9.0, -3.5}, 2012U);
    detail.about =
        "The viewer's telephone held upright, the flaking passage lower left; turned by its Exif orientation.";
    detail.orientation = 6;
    detail.glares = {{{30.0, 250.0}, 26.0, 60.0, 20.0, 0.16F}};
    set.push_back(detail);
    Photograph back = telephone("telephone-3.jpg", "verso", "2025-03-04T15:46:00", {4032, 3024},
                                {3.8, {305.0, 236.0}, -8.0, 6.0, -1.8}, 2013U);
    back.about = "The viewer's telephone, the back in its frame, in poor light.";
    back.verso = true;
    back.exposure = 0.74F;
    back.sensor.full_well_e = 1500.0F;
    set.push_back(back);
}

void add_received(std::vector<Photograph>& set) {
    Photograph p = studio("received-normal.tif", "normal", "as-received", "2025-03-20T09:30:00", Stage::received,
                          Light::normal, 2021U);
    p.about = "The reference: as received, unframed, two lamps at 45 degrees, chart and scale beside it.";
    p.size = {6000, 4000};
    p.focal_px = 10800.0;
    p.pose.px_per_mm = 7.58;
    p.sixteen_bit = true;
    set.push_back(p);
    p = studio("received-raking.jpg", "raking", "as-received", "2025-03-20T10:05:00", Stage::received, Light::raking,
               2022U);
    p.about = "One lamp from the left, 9 degrees above the face.";
    p.sensor.full_well_e = 30000.0F;
    p.fall_y = 0.0F;
    set.push_back(p);
    p = studio("received-ultraviolet.jpg", "ultraviolet", "as-received", "2025-03-20T11:20:00", Stage::received,
               Light::ultraviolet, 2023U);
    p.about = "What glows under long-wave lamps in the dark, through a filter that stops their own light.";
    p.exposure = 2.0F;
    p.sensor.full_well_e = 9000.0F;
    p.sensor.red = {1.0F, 0.0F, 0.0F};
    p.sensor.green = {0.0F, 1.0F, 0.0F};
    p.sensor.blue = {0.0F, 0.0F, 1.0F};
    p.fall_y = -0.25F;
    p.backdrop = grey(0.01F);
    set.push_back(p);
    p = studio("received-infrared.jpg", "infrared", "as-received", "2025-03-20T11:55:00", Stage::received,
               Light::infrared, 2024U);
    p.about = "Near infrared, about 1 micrometre: the drawing under the paint shows.";
    p.size = {4240, 2832};
    p.focal_px = 7600.0;
    p.pose.px_per_mm *= 4240.0 / 4920.0;
    p.sensor.full_well_e = 14000.0F;
    p.softness = 1.5;
    p.sensor.red = p.sensor.green = p.sensor.blue = {1.0F, 0.0F, 0.0F};
    set.push_back(p);
    p = studio("received-verso.jpg", "normal", "as-received", "2025-03-20T12:30:00", Stage::received, Light::normal,
               2025U);
    p.about = "The back as received: canvas, strainer, patch, inscription, stamp, label, chalk.";
    p.face = "verso";
    p.verso = true;
    p.size = {6000, 4000};
    p.focal_px = 10800.0;
    p.pose.px_per_mm = 7.58;
    p.exposure = 1.15F;
    set.push_back(p);
}

void add_treatment(std::vector<Photograph>& set) {
    Photograph p = studio("faced.jpg", "normal", "faced", "2025-03-21T16:40:00", Stage::faced, Light::normal, 2031U);
    p.about = "Tissues laid over the two flaking passages for the journey.";
    set.push_back(p);
    p = studio("trials.jpg", "normal", "trials", "2025-04-02T14:10:00", Stage::trials, Light::normal, 2032U);
    p.about = "Five trial windows, facings off, flaking passages laid.";
    set.push_back(p);
    p = studio("half-cleaned.jpg", "normal", "half-cleaned", "2025-04-10T17:15:00", Stage::half_cleaned, Light::normal,
               2033U);
    p.about = "Right half cleaned, a witness patch left in the cloud.";
    set.push_back(p);
    p = studio("cleaned.jpg", "normal", "cleaned", "2025-04-18T11:00:00", Stage::cleaned, Light::normal, 2034U);
    p.about = "Dirt, varnish and old overpaint off; losses and the tear lie open.";
    set.push_back(p);
    p = studio("lined.jpg", "normal", "lined", "2025-05-06T10:20:00", Stage::lined, Light::normal, 2035U);
    p.about = "After lining and a new stretcher; the canvas has moved by up to a millimetre.";
    set.push_back(p);
    p = studio("filled.jpg", "normal", "filled", "2025-05-15T15:30:00", Stage::filled, Light::normal, 2036U);
    p.about = "Losses filled with white putty and levelled.";
    set.push_back(p);
    p = studio("varnished.jpg", "normal", "varnished", "2025-06-03T12:00:00", Stage::varnished, Light::normal, 2037U);
    p.about = "Retouched and varnished: finished.";
    set.push_back(p);
}

int scaled(int px, double scale) {
    return static_cast<int>(std::lround(px * scale));
}

}  // namespace

std::vector<Photograph> all_photographs(double scale) {
    std::vector<Photograph> set;
    add_saleroom(set);
    add_telephones(set);
    add_received(set);
    add_treatment(set);
    for (Photograph& p : set) {
        p.size = {scaled(p.size.width_px, scale), scaled(p.size.height_px, scale)};
        p.focal_px *= scale;
        p.pose.px_per_mm *= scale;
    }
    return set;
}

Camera camera_of(const Photograph& p) {
    Lens lens{0.5 * (p.size.width_px - 1) + 0.004 * p.size.width_px,
              0.5 * (p.size.height_px - 1) - 0.003 * p.size.height_px,
              p.focal_px,
              p.k1,
              p.k2,
              p.p1,
              p.p2};
    return Camera::placed(p.size, lens, p.pose);
}

BsplineDisplacement old_from_new_lining() {
    Dice dice(2101U);
    std::vector<PointMm> coefficients;
    for (int i = 0; i < 13 * 11; ++i)
        coefficients.push_back({0.55 * static_cast<double>(dice.normal()), 0.55 * static_cast<double>(dice.normal())});
    return BsplineDisplacement::make({-160.0, -160.0}, 80.0, 13, 11, std::move(coefficients)).value();
}

}  // namespace tedge::painter
