#include "studio.hpp"

#include <chrono>
#include <future>
#include <memory>
#include <optional>

#include "output.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "truth.hpp"
#include "verso.hpp"

namespace tedge::painter {
namespace {

constexpr double layer_px_per_mm = 8.0;

// A view of the face that one or several photographs share.
struct Key {
    bool verso;
    Stage stage;
    Light kind;
    friend bool operator==(const Key&, const Key&) = default;
};
Key key_of(const Photograph& p) {
    return {p.verso, p.stage, p.kind};
}

class Studio {
public:
    explicit Studio(const StudioOptions& options)
        : options_(options),
          photographs_(all_photographs(options.scale)),
          surface_(Grid::over(face_size, layer_px_per_mm * options.scale), options.threads) {
        say("painted, cracked and coated the picture");
    }

    Expected<void> work() {
        const std::string truth = truth_json(surface_, photographs_);
        if (auto written = write_file_durably(options_.folder / "truth.json", truth); !written) return pass_on(written);
        std::vector<bool> done(photographs_.size(), false);
        for (std::size_t first = 0; first < photographs_.size(); ++first)
            for (std::size_t i = first; i < photographs_.size() && !done[first]; ++i) {
                // Photographs of the same view one after another; the first that is left decides which view.
                for (std::size_t j = first; j < photographs_.size(); ++j)
                    if (!done[j] && key_of(photographs_[j]) == key_of(photographs_[first])) {
                        done[j] = true;
                        if (!wanted(photographs_[j])) continue;
                        if (auto taken = take(photographs_[j]); !taken) return taken;
                    }
            }
        return finish_writing();
    }

private:
    [[nodiscard]] bool wanted(const Photograph& p) const { return options_.only.empty() || options_.only == p.file; }

    void say(const std::string& what) {
        const auto now = std::chrono::steady_clock::now();
        const double seconds = std::chrono::duration<double>(now - since_).count();
        since_ = now;
        if (options_.say) options_.say(format_fixed(seconds, 1) + " s  " + what);
    }

    Expected<void> take(const Photograph& p) {
        if (!view_ || !(view_key_ == key_of(p))) {
            view_.reset();  // before the next one is made: each is some hundred megabytes
            view_key_ = key_of(p);
            view_ = std::make_unique<Pyramid>(p.verso ? verso_appearance(surface_, options_.threads)
                                                      : appearance(surface_, p.stage, p.kind, options_.threads),
                                              surface_.grid.px_per_mm, 3, options_.threads);
        }
        const imaging::Raster16 frame = expose(scene_of(p), camera_of(p), p.softness, options_.threads);
        Pixels pixels;
        if (p.sixteen_bit)
            pixels = develop_16(frame, p.sensor, options_.threads);
        else
            pixels = develop_8(frame, p.sensor, options_.threads);
        // Compressing and writing goes on beside the next exposure, one file at a time.
        if (auto written = finish_writing(); !written) return written;
        writing_ = std::async(std::launch::async, [this, p, pixels = std::move(pixels)]() -> Expected<void> {
            auto bytes = encoded(p, pixels);
            if (!bytes) return pass_on(bytes);
            return write_file_durably(options_.folder / p.file, *bytes);
        });
        say("took " + p.file);
        return {};
    }

    Expected<void> finish_writing() { return writing_.valid() ? writing_.get() : Expected<void>{}; }

    Scene scene_of(const Photograph& p) {
        Scene scene;
        scene.face = view_.get();
        if (p.lined()) scene.old_from_new = old_from_new_lining();
        const double detail = options_.scale;
        if (p.with_chart) {
            if (!chart_) chart_ = chart_card(chart_place, 0.0, 8.0 * detail);
            if (!scale_) scale_ = scale_card(scale_place, 0.0, 12.0 * detail);
            scene.cards = {&*chart_, &*scale_};
        }
        if (p.in_frame) {
            auto& frame = p.verso ? frame_back_ : frame_;
            if (!frame)
                frame = p.verso ? frame_back_card(5.0 * detail, options_.threads)
                                : frame_card(5.0 * detail, options_.threads);
            scene.cards = {&*frame};
        }
        scene.glares = p.glares;
        scene.light = p.kind;
        scene.backdrop = p.backdrop;
        scene.plastered_wall = p.plastered_wall;
        scene.exposure = p.exposure;
        scene.cast = p.cast;
        scene.fall_x = p.fall_x;
        scene.fall_y = p.fall_y;
        return scene;
    }

    const StudioOptions& options_;
    std::chrono::steady_clock::time_point since_ = std::chrono::steady_clock::now();
    std::vector<Photograph> photographs_;
    Surface surface_;
    std::unique_ptr<Pyramid> view_;
    Key view_key_{};
    std::optional<Card> chart_, scale_, frame_, frame_back_;
    std::future<Expected<void>> writing_;
};

}  // namespace

Expected<void> take_photographs(const StudioOptions& options) {
    if (!(options.scale >= 0.05 && options.scale <= 1.5))
        return fail("painter.bad-scale", "The scale must lie between 0.05 and 1.5.",
                    "Leave it out for photographs of full size.");
    if (!options.only.empty()) {
        bool known = false;
        for (const Photograph& p : all_photographs(options.scale)) known = known || p.file == options.only;
        if (!known)
            return fail("painter.unknown-photograph", "There is no photograph named " + options.only + " in the set.",
                        "Look into truth.json for their names.");
    }
    if (auto made = make_folder_durably(options.folder); !made) return pass_on(made);
    Studio studio(options);
    return studio.work();
}

}  // namespace tedge::painter
