#include "forms/drafts.hpp"

#include <nlohmann/json.hpp>

#include "tedge/base/files.hpp"
#include "text.hpp"

namespace tedge::desk {

using nlohmann::json;

namespace {

constexpr std::uint64_t largest_file_bytes = 10'000'000;

}  // namespace

Drafts::Drafts(std::filesystem::path file) : file_(std::move(file)) {
    const auto text = read_file(file_, largest_file_bytes);
    const json stored = text ? json::parse(*text, nullptr, false) : json();
    if (!stored.is_object()) return;
    for (const auto& [form, fields] : stored.items()) {
        for (const auto& [field, typed] : fields.items()) {
            if (typed.is_string()) forms_[shown(form)][shown(field)] = shown(typed.get<std::string>());
        }
    }
}

QMap<QString, QString> Drafts::of_form(const QString& form) const {
    return forms_.value(form);
}

void Drafts::keep(const QString& form, const QMap<QString, QString>& typed) {
    if (forms_.value(form) == typed) return;
    forms_[form] = typed;
    save();
}

void Drafts::drop(const QString& form) {
    if (forms_.remove(form) > 0) save();
}

void Drafts::save() const {
    json stored = json::object();
    for (auto form = forms_.begin(); form != forms_.end(); ++form) {
        for (auto field = form->begin(); field != form->end(); ++field) {
            stored[plain(form.key())][plain(field.key())] = plain(field.value());
        }
    }
    // A draft that cannot be kept is still on the screen; the next keystroke tries again.
    static_cast<void>(write_file_durably(file_, stored.dump()));
}

}  // namespace tedge::desk
