// What in a photograph is measured and has to be pointed at first.
#pragma once

namespace tedge::desk {

enum class PointedAt {
    chart,  // the outer corners of its four corner patches
    edge,   // a box over a slanted edge, by two opposite corners
    ruler,  // two of its marks
    patch   // a box within one tone, by two opposite corners
};

}  // namespace tedge::desk
