// What has befallen the picture, each place as an exact outline in mm of the recto: the truth that findings are held
// to.
#pragma once

#include <string>
#include <vector>

#include "craquelure.hpp"
#include "ink.hpp"

namespace tedge::painter {

struct Loss {
    std::string name;
    Line outline;
    bool to_canvas = false;  // otherwise to the ground
};

struct TrialWindow {
    std::string name;
    std::string passage;
    std::string treatment;  // what was done, in a few words
    Line outline;
    double dirt_left = 0.0;  // shares that stay
    double varnish_left = 1.0;
};

struct Damage {
    std::vector<Loss> losses;
    std::vector<Line> flaking_zones;  // where paint stands up and more will fall
    std::vector<Line> facing_papers;  // tissues laid over them
    Line tear;                        // an old tear, mended
    Line overpaint;                   // the old restorer's paint over it, broader than the tear
    std::vector<Line> retouchings;    // smaller touches of the same hand elsewhere
    Line blanching;                   // milky varnish where damp stood
    std::vector<TrialWindow> trials;
    Line cleaned_half;  // what was cleaned at the half-way photograph …
    Line witness;       // … but for this patch
    Line signature_box;
};

// Small flakes follow the cracks.
[[nodiscard]] Damage make_damage(const std::vector<Crack>& cracks);

// Area of an outline in mm².
[[nodiscard]] double area_mm2(const Line& ring);

}  // namespace tedge::painter
