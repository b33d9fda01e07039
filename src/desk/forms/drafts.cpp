#include "forms/drafts.hpp"

#include <nlohmann/json.hpp>

#include "tedge/base/files.hpp"
#include "text.hpp"

namespace tedge::desk {

using nlohmann::json;

namespace {

constexpr std::uint64_t largest_file_bytes = 10'000'000;

}  // namespace

std::vector<Uuid> ids_in(const QString& text) {
    std::vector<Uuid> ids;
    for (const QString& part : text.split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
        if (const auto id = parse_uuid(plain(part))) ids.push_back(*id);
    }
    return ids;
}

Drafts::Drafts(std::filesystem::path file) : file_(std::move(file)), forms_(read()) {}

Drafts::Forms Drafts::read() const {
    Forms forms;
    const auto text = read_file(file_, largest_file_bytes);
    const json stored = text ? json::parse(*text, nullptr, false) : json();
    if (!stored.is_object()) return forms;
    for (const auto& [form, fields] : stored.items()) {
        if (!fields.is_object()) continue;
        for (const auto& [field, typed] : fields.items()) {
            if (typed.is_string()) forms[shown(form)][shown(field)] = shown(typed.get<std::string>());
        }
    }
    return forms;
}

void Drafts::keep(const QString& form, const QMap<QString, QString>& typed) {
    if (forms_.value(form) == typed) return;
    // A second window on the same book keeps its own forms in the same file.
    Forms all = read();
    if (typed.isEmpty()) {
        all.remove(form);
    } else {
        all[form] = typed;
    }
    forms_ = std::move(all);
    write();
}

void Drafts::drop_erased(casebook::Casebook& book) {
    Forms all = read();
    const auto is_erased = [&](const QString& form, const QMap<QString, QString>& typed) {
        const auto record = parse_uuid(plain(form));
        if (!record) return false;  // of a record that is not yet
        const auto history = book.history(*record);
        return history && casebook::erased_since(*history, ids_in(typed.value(seen_key)));
    };
    bool any = false;
    for (const QString& form : all.keys()) {
        if (is_erased(form, all.value(form))) any = all.remove(form) > 0;
    }
    if (!any) return;
    forms_ = std::move(all);
    write();
}

void Drafts::write() const {
    json stored = json::object();
    for (auto each = forms_.begin(); each != forms_.end(); ++each) {
        for (auto field = each->begin(); field != each->end(); ++field) {
            stored[plain(each.key())][plain(field.key())] = plain(field.value());
        }
    }
    // A draft that cannot be kept is still on the screen; the next keystroke tries again.
    static_cast<void>(write_file_durably(file_, stored.dump()));
}

}  // namespace tedge::desk
