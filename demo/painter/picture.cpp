#include "composition.hpp"

namespace tedge::painter {
namespace {

void append(Strokes& all, Strokes passage) {
    all.insert(all.end(), std::make_move_iterator(passage.begin()), std::make_move_iterator(passage.end()));
}

Rgb sampled(const PaintLayers& layers, float x_mm, float y_mm) {
    const auto place = [&](float mm, int count) {
        const int sample = static_cast<int>(static_cast<double>(mm) * layers.grid.px_per_mm);
        return sample < 0 ? 0 : (sample >= count ? count - 1 : sample);
    };
    const std::uint16_t* c =
        &layers.reflectance.at(place(x_mm, layers.grid.width_px), place(y_mm, layers.grid.height_px));
    return {from_share(c[0]), from_share(c[1]), from_share(c[2])};
}

}  // namespace

PaintLayers paint_picture(const Grid& grid, int threads) {
    PaintLayers layers(grid);
    prime(layers, from_srgb(0xa8875c), threads);
    Strokes far = paint_sky();
    append(far, paint_hills());
    append(far, paint_meadows());
    append(far, paint_far_trees());
    append(far, paint_mill());
    lay(far, layers, threads);
    Strokes near = paint_river([&](float x, float y) { return sampled(layers, x, y); });
    append(near, paint_banks());
    append(near, paint_shrubs());
    append(near, paint_staffage());
    append(near, paint_oak());
    append(near, paint_foreground());
    lay(near, layers, threads);
    return layers;
}

}  // namespace tedge::painter
