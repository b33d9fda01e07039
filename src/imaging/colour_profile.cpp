#include "colour_profile.hpp"

#include <lcms2.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "tedge/imaging/srgb_view.hpp"

namespace tedge::imaging {
namespace {

struct CloseProfile {
    void operator()(void* profile) const { cmsCloseProfile(profile); }
};
struct DeleteTransform {
    void operator()(void* transform) const { cmsDeleteTransform(transform); }
};
struct FreeCurve {
    void operator()(cmsToneCurve* curve) const { cmsFreeToneCurve(curve); }
};
using Profile = std::unique_ptr<void, CloseProfile>;
using Transform = std::unique_ptr<void, DeleteTransform>;
using Curve = std::unique_ptr<cmsToneCurve, FreeCurve>;

Profile opened(std::span<const std::uint8_t> bytes) {
    return Profile(cmsOpenProfileFromMem(bytes.data(), static_cast<cmsUInt32Number>(bytes.size())));
}

cmsUInt32Number lcms_format(SampleLayout layout) {
    switch (layout) {
        case SampleLayout::grey8:
            return TYPE_GRAY_8;
        case SampleLayout::grey16:
            return TYPE_GRAY_16;
        case SampleLayout::rgb8:
            return TYPE_RGB_8;
        case SampleLayout::rgb16:
            return TYPE_RGB_16;
        case SampleLayout::cmyk8:
            return TYPE_CMYK_8;
        case SampleLayout::cmyk8_inverted:
            return TYPE_CMYK_8_REV;
        case SampleLayout::cmyk16:
            return TYPE_CMYK_16;
    }
    return TYPE_RGB_8;
}

int channels_of(SampleLayout layout) {
    return static_cast<int>(T_CHANNELS(lcms_format(layout)));
}

// Bytes 16 to 19 of a profile name its colour space (ICC.1:2022 table 17). Read here: as a value of Little CMS' list, a
// name that is not in it is none that the list's type may hold.
int channels_named(std::span<const std::uint8_t> profile) {
    if (profile.size() < 20) return 0;
    const std::string space(profile.begin() + 16, profile.begin() + 20);
    if (space == "GRAY") return 1;
    if (space == "RGB ") return 3;
    return space == "CMYK" ? 4 : 0;
}

// Little CMS dates a profile by the clock; ours shall be the same bytes every time. ICC.1:2022 table 17: bytes 24 to 35
// hold the date, bytes 84 to 99 the profile's checksum, which may be zero.
ProfileBytes saved(cmsHPROFILE profile) {
    cmsUInt32Number size = 0;
    if (profile == nullptr || !cmsSaveProfileToMem(profile, nullptr, &size)) return {};
    ProfileBytes bytes(size);
    if (!cmsSaveProfileToMem(profile, bytes.data(), &size)) return {};
    constexpr std::array<std::uint8_t, 12> fixed_date{0x07, 0xEA, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0};
    std::ranges::copy(fixed_date, bytes.begin() + 24);
    std::fill_n(bytes.begin() + 84, 16, std::uint8_t{0});
    return bytes;
}

Curve tone_curve(double gamma) {
    if (gamma > 0.0) return Curve(cmsBuildGamma(nullptr, gamma));
    // IEC 61966-2-1: ((v + 0.055) / 1.055)^2.4 above 0.04045, v / 12.92 below.
    const std::array<cmsFloat64Number, 5> srgb{2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045};
    return Curve(cmsBuildParametricToneCurve(nullptr, 4, srgb.data()));
}

// 1024 steps: version 2 profiles hold curves as tables.
Curve as_table(const cmsToneCurve& exact) {
    std::array<cmsUInt16Number, 1024> steps{};
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const auto at = static_cast<cmsFloat32Number>(i) / static_cast<cmsFloat32Number>(steps.size() - 1);
        steps[i] = static_cast<cmsUInt16Number>(std::lround(cmsEvalToneCurveFloat(&exact, at) * 65535.0F));
    }
    return Curve(cmsBuildTabulatedToneCurve16(nullptr, steps.size(), steps.data()));
}

}  // namespace

struct SrgbTransform::Handles {
    Transform transform;
};

Expected<SrgbTransform> SrgbTransform::make(std::span<const std::uint8_t> profile, SampleLayout source,
                                            SampleLayout target) {
    const auto refused = [] {
        return fail("picture.colour-profile", "The colour profile in the file cannot be used with its pixels.",
                    "Save the picture with an sRGB profile in the program it comes from, and take that in.");
    };
    if (profile_channels(profile) != channels_of(source)) return refused();
    const Profile from = opened(profile);
    const Profile to = opened(srgb_icc_profile());
    auto handles = std::make_shared<Handles>();
    handles->transform.reset(cmsCreateTransform(from.get(), lcms_format(source), to.get(), lcms_format(target),
                                                INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOCACHE));
    if (!handles->transform) return refused();
    SrgbTransform transform;
    transform.handles_ = std::move(handles);
    return transform;
}

void SrgbTransform::apply(const void* from, void* to, std::size_t pixels) const {
    cmsDoTransform(handles_->transform.get(), from, to, static_cast<cmsUInt32Number>(pixels));
}

int profile_channels(std::span<const std::uint8_t> profile) {
    const int channels = channels_named(profile);
    return channels > 0 && opened(profile) ? channels : 0;
}

bool profile_fits(std::span<const std::uint8_t> profile, int channels) {
    return profile_channels(profile) == channels;
}

bool profile_is_srgb(std::span<const std::uint8_t> profile) {
    const int channels = profile_channels(profile);
    if (channels != 1 && channels != 3) return false;
    const auto transform =
        SrgbTransform::make(profile, channels == 1 ? SampleLayout::grey16 : SampleLayout::rgb16, SampleLayout::rgb16);
    if (!transform) return false;
    constexpr int steps = 9;
    constexpr int tolerance = 200;  // of 65535; an 8-bit step is 257
    const auto level = [](int step) { return static_cast<std::uint16_t>(step * 65535 / (steps - 1)); };
    for (int node = 0; node < (channels == 1 ? steps : steps * steps * steps); ++node) {
        const std::array<std::uint16_t, 3> in{level(node % steps), level(node / steps % steps),
                                              level(node / steps / steps)};
        std::array<std::uint16_t, 3> out{};
        transform->apply(in.data(), out.data(), 1);
        for (std::size_t c = 0; c < 3; ++c)
            if (std::abs(out[c] - in[channels == 1 ? 0 : c]) > tolerance) return false;
    }
    return true;
}

ProfileBytes rgb_profile(Chromaticity white, Chromaticity red, Chromaticity green, Chromaticity blue, double gamma) {
    const cmsCIExyY white_xyy{white.x, white.y, 1.0};
    const cmsCIExyYTRIPLE primaries{{red.x, red.y, 1.0}, {green.x, green.y, 1.0}, {blue.x, blue.y, 1.0}};
    const Curve curve = tone_curve(gamma);
    const std::array<cmsToneCurve*, 3> curves{curve.get(), curve.get(), curve.get()};
    if (!curve || white.y <= 0.0) return {};
    const Profile profile(cmsCreateRGBProfile(&white_xyy, &primaries, curves.data()));
    return saved(profile.get());
}

ProfileBytes grey_profile(double gamma) {
    const Curve curve = tone_curve(gamma);
    const Profile profile(curve ? cmsCreateGrayProfile(cmsD50_xyY(), curve.get()) : nullptr);
    return saved(profile.get());
}

const std::vector<std::uint8_t>& srgb_icc_profile() {
    static const ProfileBytes bytes = [] {
        const Chromaticity d65{0.3127, 0.3290};
        const Curve exact = tone_curve(0.0);
        const Curve curve = as_table(*exact);
        const std::array<cmsToneCurve*, 3> curves{curve.get(), curve.get(), curve.get()};
        const cmsCIExyY white{d65.x, d65.y, 1.0};
        const cmsCIExyYTRIPLE primaries{{0.64, 0.33, 1.0}, {0.30, 0.60, 1.0}, {0.15, 0.06, 1.0}};
        const Profile profile(cmsCreateRGBProfile(&white, &primaries, curves.data()));
        // Version 2 is what every old viewer reads.
        cmsSetProfileVersion(profile.get(), 2.1);
        cmsMLU* name = cmsMLUalloc(nullptr, 1);
        cmsMLUsetASCII(name, "en", "US", "sRGB IEC 61966-2-1");
        cmsWriteTag(profile.get(), cmsSigProfileDescriptionTag, name);
        cmsMLUfree(name);
        return saved(profile.get());
    }();
    return bytes;
}

}  // namespace tedge::imaging
