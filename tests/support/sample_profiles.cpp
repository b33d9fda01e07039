#include <lcms2.h>

#include <array>

#include "sample_files.hpp"

namespace tedge::imaging::samples {
namespace {

std::vector<std::uint8_t> saved_and_closed(cmsHPROFILE profile) {
    cmsUInt32Number size = 0;
    cmsSaveProfileToMem(profile, nullptr, &size);
    std::vector<std::uint8_t> bytes(size);
    cmsSaveProfileToMem(profile, bytes.data(), &size);
    cmsCloseProfile(profile);
    return bytes;
}

std::vector<std::uint8_t> rgb(const cmsCIExyYTRIPLE& primaries, cmsToneCurve* curve) {
    const cmsCIExyY d65{0.3127, 0.3290, 1.0};
    const std::array<cmsToneCurve*, 3> curves{curve, curve, curve};
    auto bytes = saved_and_closed(cmsCreateRGBProfile(&d65, &primaries, curves.data()));
    cmsFreeToneCurve(curve);
    return bytes;
}

cmsToneCurve* srgb_curve() {
    const std::array<cmsFloat64Number, 5> parameters{2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045};
    return cmsBuildParametricToneCurve(nullptr, 4, parameters.data());
}

// Inks to Lab: black ink takes light away, cyan red, magenta green, yellow blue, each by its amount.
cmsInt32Number mix(const cmsUInt16Number in[], cmsUInt16Number out[], void*) {
    const double k = 1.0 - in[3] / 65535.0;
    const double r = (1.0 - in[0] / 65535.0) * k, g = (1.0 - in[1] / 65535.0) * k, b = (1.0 - in[2] / 65535.0) * k;
    const cmsCIELab lab{100.0 * (0.25 * r + 0.65 * g + 0.10 * b), 80.0 * (r - g), 60.0 * (0.5 * (r + g) - b)};
    cmsFloat2LabEncodedV2(out, &lab);
    return TRUE;
}

// Red, green and blue to Lab, roughly.
cmsInt32Number mix_light(const cmsUInt16Number in[], cmsUInt16Number out[], void*) {
    const double r = in[0] / 65535.0, g = in[1] / 65535.0, b = in[2] / 65535.0;
    const cmsCIELab lab{100.0 * (0.25 * r + 0.65 * g + 0.10 * b), 80.0 * (r - g), 60.0 * (0.5 * (r + g) - b)};
    cmsFloat2LabEncodedV2(out, &lab);
    return TRUE;
}

std::vector<std::uint8_t> by_table(cmsColorSpaceSignature space, unsigned channels, unsigned steps,
                                   cmsSAMPLER16 colour) {
    cmsHPROFILE profile = cmsCreateProfilePlaceholder(nullptr);
    cmsSetProfileVersion(profile, 2.1);
    cmsSetDeviceClass(profile, cmsSigOutputClass);
    cmsSetColorSpace(profile, space);
    cmsSetPCS(profile, cmsSigLabData);
    cmsPipeline* pipeline = cmsPipelineAlloc(nullptr, channels, 3);
    cmsStage* table = cmsStageAllocCLut16bit(nullptr, steps, channels, 3, nullptr);
    cmsStageSampleCLut16bit(table, colour, nullptr, 0);
    cmsPipelineInsertStage(pipeline, cmsAT_BEGIN, table);
    cmsWriteTag(profile, cmsSigAToB0Tag, pipeline);
    cmsWriteTag(profile, cmsSigMediaWhitePointTag, cmsD50_XYZ());
    cmsPipelineFree(pipeline);
    return saved_and_closed(profile);
}

}  // namespace

// Made once: a profile carries the second it was made in.
std::vector<std::uint8_t> wide_gamut_profile() {
    static const auto profile =
        rgb({{0.64, 0.33, 1.0}, {0.21, 0.71, 1.0}, {0.15, 0.06, 1.0}}, cmsBuildGamma(nullptr, 2.2));
    return profile;
}

std::vector<std::uint8_t> swapped_profile() {
    return rgb({{0.15, 0.06, 1.0}, {0.30, 0.60, 1.0}, {0.64, 0.33, 1.0}}, srgb_curve());
}

std::vector<std::uint8_t> library_srgb_profile() {
    return saved_and_closed(cmsCreate_sRGBProfile());
}

std::vector<std::uint8_t> inks_profile() {
    return by_table(cmsSigCmykData, 4, 9, mix);
}

std::vector<std::uint8_t> small_inks_profile() {
    return by_table(cmsSigCmykData, 4, 2, mix);
}

std::vector<std::uint8_t> table_profile() {
    return by_table(cmsSigRgbData, 3, 3, mix_light);
}

}  // namespace tedge::imaging::samples
