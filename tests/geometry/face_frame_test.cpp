#include "tedge/geometry/face_frame.hpp"

#include <catch2/catch.hpp>

using namespace tedge;

TEST_CASE("The eight faces read back from their words") {
    for (const Face face : all_faces) CHECK(parse_face(to_text(face)) == face);
    CHECK(parse_face("front").error().code == "face.unknown");
    CHECK(parse_face("front").error().next.find("edge-left") != std::string::npos);
}

TEST_CASE("Turning over twice is the same spot again") {
    const PointMm spot{100, 40};
    CHECK(turned_over(spot, 812) == PointMm{712, 40});
    CHECK(turned_over(turned_over(spot, 812), 812) == spot);
}

TEST_CASE("A size that no picture has is refused") {
    FaceFrame frame;
    frame.size = {812, 610};
    CHECK(frame.check());
    for (const SizeMm size : {SizeMm{0, 610}, SizeMm{812, -1}, SizeMm{812, 30'000}, SizeMm{NAN, 610}}) {
        frame.size = size;
        CHECK(frame.check().error().code == "face.size-out-of-range");
    }
}
