// Made photographs of the chart in another exposure and white balance, brought back to the published values of its
// patches (chart_reference.hpp says whose).
#include "tedge/imaging/chart_correction.hpp"

#include <catch2/catch.hpp>

#include "made_chart.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{420, 320};

MadeChart chart_in(double exposure, const std::array<double, 3>& balance) {
    MadeChart made{.size = size, .photo_from_chart = chart_seen(size, 3, 55, 0.0), .exposure = exposure, .samples = 4};
    for (std::size_t c = 0; c < 3; ++c)
        for (double& each : made.camera_from_xyz[c]) each *= balance[c];
    return made;
}

Picture developed(const MadeChart& made) {
    Raster8 shown(size.width_px, size.height_px, 3);
    const ChartPicture linear = photographed(made);
    for (std::size_t i = 0; i < shown.samples().size(); ++i)
        shown.samples()[i] =
            static_cast<std::uint8_t>(std::lround(255 * srgb_encoded(linear.linear.samples()[i] / 65535.0)));
    Picture picture;
    picture.pixels = std::move(shown);
    return picture;
}

// Over the patches whose published colour sRGB holds; black is left to glare.
double mean_off(const Raster8& shown, const MadeChart& made) {
    const auto& reference = chart_reference(ChartEdition::maker_2005);
    double sum = 0.0;
    int patches = 0;
    for (std::size_t i = 0; i < chart_black; ++i) {
        const Rgb rgb = srgb_from_lab(reference.lab[i]);
        if (std::min({rgb.r, rgb.g, rgb.b}) < 0.0 || std::max({rgb.r, rgb.g, rgb.b}) > 1.0) continue;
        const auto at = made.photo_from_chart.apply(static_cast<double>(i % 6), static_cast<double>(i / 6));
        const int x = static_cast<int>(std::lround(at[0])), y = static_cast<int>(std::lround(at[1]));
        sum += delta_e00(lab_from_srgb8(shown.at(x, y, 0), shown.at(x, y, 1), shown.at(x, y, 2)), reference.lab[i]);
        ++patches;
    }
    REQUIRE(patches > 15);
    return sum / patches;
}

ColourTransform fitted(const Picture& picture, const MadeChart& made) {
    const auto linear = chart_picture(picture).value();
    const auto reading = read_chart_at(linear, true_corners(made)).value();
    return fit_chart(reading, chart_reference(ChartEdition::maker_2005)).value().transform;
}

}  // namespace

TEST_CASE("a chart in another exposure and white balance comes back to its published colours") {
    for (const auto& [exposure, balance] : {std::pair{0.55, std::array<double, 3>{1.0, 1.0, 1.0}},
                                            std::pair{0.8, std::array<double, 3>{1.15, 1.0, 0.7}}}) {
        const MadeChart made = chart_in(exposure, balance);
        const Picture picture = developed(made);
        CHECK(mean_off(std::get<Raster8>(picture.pixels), made) > 5.0);
        const Raster8 corrected =
            corrected_by_chart(chart_picture(picture).value(), fitted(picture, made), ChartLight::srgb).value();
        CHECK(mean_off(corrected, made) < 1.0);
    }
}

TEST_CASE("what was burnt out stays white, and another rendering than the chart's is refused") {
    const MadeChart made = chart_in(0.8, {1.15, 1.0, 0.7});
    Picture picture = developed(made);
    const ColourTransform transform = fitted(picture, made);
    auto& pixels = std::get<Raster8>(picture.pixels);
    std::fill_n(&pixels.at(3, 3), 3, std::uint8_t{252});
    const Raster8 corrected = corrected_by_chart(chart_picture(picture).value(), transform, ChartLight::srgb).value();
    CHECK(corrected.at(3, 3, 0) == 255);
    CHECK(corrected.at(3, 3, 2) == 255);
    CHECK(corrected.at(10, 10, 2) < 255);
    CHECK(corrected_by_chart(chart_picture(picture).value(), transform, ChartLight::camera).error().code ==
          "chart.other-light");
    std::stop_source stop;
    stop.request_stop();
    CHECK(
        corrected_by_chart(chart_picture(picture).value(), transform, ChartLight::srgb, Progress(stop.get_token(), {}))
            .error()
            .code == "cancelled");
}
