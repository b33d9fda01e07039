#include "photographs/intake_keys.hpp"

#include <QKeyEvent>
#include <QObject>
#include <algorithm>
#include <array>
#include <vector>

#include "tedge/casebook/field_table.hpp"

namespace tedge::desk {

namespace {

struct FaceKey {
    int key;
    std::vector<Face> faces;  // several take turns
};

const std::vector<FaceKey>& face_keys() {
    static const std::vector<FaceKey> keys{
        {Qt::Key_R, {Face::recto}},
        {Qt::Key_V, {Face::verso}},
        {Qt::Key_E, {Face::edge_top, Face::edge_right, Face::edge_bottom, Face::edge_left}},
        {Qt::Key_F, {Face::frame_front, Face::frame_back}},
    };
    return keys;
}

struct LightKey {
    int key;
    const char* light;
};
constexpr std::array light_keys{LightKey{Qt::Key_N, "normal"},      LightKey{Qt::Key_X, "cross-polarised"},
                                LightKey{Qt::Key_G, "specular"},    LightKey{Qt::Key_K, "raking"},
                                LightKey{Qt::Key_U, "ultraviolet"}, LightKey{Qt::Key_I, "infrared"},
                                LightKey{Qt::Key_T, "transmitted"}};

struct LampKey {
    int key;
    const char* side;
};
constexpr std::array lamp_keys{LampKey{Qt::Key_Left, "left"}, LampKey{Qt::Key_Right, "right"},
                               LampKey{Qt::Key_Up, "top"}, LampKey{Qt::Key_Down, "bottom"}};

template <class Keys>
auto find_key(const Keys& keys, int key) {
    return std::ranges::find_if(keys, [key](const auto& each) { return each.key == key; });
}

// The one after what the row says now, else the first.
template <class T>
T next_of(const std::vector<T>& turns, const T& now) {
    const auto at = std::ranges::find(turns, now);
    return at == turns.end() || at + 1 == turns.end() ? turns.front() : *(at + 1);
}

std::vector<std::string> stages_with(QChar initial) {
    std::vector<std::string> stages;
    for (const std::string_view word : casebook::words_of(*casebook::find_kind("photograph")->field("stage"))) {
        if (QChar(word.front()).toUpper() == initial) stages.emplace_back(word);
    }
    return stages;
}

std::optional<IntakeAct> stage_act(int key) {
    if (key < Qt::Key_A || key > Qt::Key_Z) return std::nullopt;
    const auto stages = stages_with(QChar(key));
    if (stages.empty()) return std::nullopt;
    return [stages](IntakeRow& row) {
        row.said.stage = next_of(stages, row.wanted.stage);
        row.guess();
    };
}

std::optional<IntakeAct> letter_act(int key) {
    if (const auto face = find_key(face_keys(), key); face != face_keys().end()) {
        return [faces = face->faces](IntakeRow& row) {
            row.said.face = next_of(faces, row.wanted.face);
            row.guess();
        };
    }
    if (const auto light = find_key(light_keys, key); light != light_keys.end())
        return [word = std::string(light->light)](IntakeRow& row) { row.say_light(word); };
    if (key == Qt::Key_S) return [](IntakeRow& row) { row.wanted.has_scale = !row.wanted.has_scale; };
    if (key == Qt::Key_C) return [](IntakeRow& row) { row.wanted.has_chart = !row.wanted.has_chart; };
    if (key == Qt::Key_Space) return [](IntakeRow& row) { row.confirm(); };
    return std::nullopt;
}

}  // namespace

std::optional<IntakeAct> act_of_key(const QKeyEvent& key) {
    const auto with = key.modifiers() & ~Qt::KeypadModifier;
    if (with == Qt::ControlModifier) {
        const auto lamp = find_key(lamp_keys, key.key());
        if (lamp == lamp_keys.end()) return std::nullopt;
        return [side = std::string(lamp->side)](IntakeRow& row) { row.say_lamp(side); };
    }
    if (with == Qt::ShiftModifier) return stage_act(key.key());
    return with == Qt::NoModifier ? letter_act(key.key()) : std::nullopt;
}

QString keys_in_words() {
    return QObject::tr(
        "Face: R recto, V verso, E edges in turn, F frame. Light: N normal, X cross-polarised, G specular, K raking "
        "(Ctrl+arrow: from there), U ultraviolet, I infrared, T transmitted. When: Shift and its initial, again for "
        "the "
        "next. S scale, C chart. = as above, D down from the first chosen, Space or Enter: right as guessed, "
        "O order, Del leaves out, Ctrl+Enter takes them in.");
}

}  // namespace tedge::desk
