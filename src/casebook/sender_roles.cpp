#include "sender_roles.hpp"

#include <algorithm>

#include "field_paths.hpp"
#include "fold.hpp"

namespace tedge::casebook {

namespace {

bool may_write_path(const Kind& kind, std::string_view path, Reader sender) {
    const Field* field = kind.field(top_field(path));
    return field != nullptr && field->readers.contains(sender);
}

bool may_touch_all_fields(const Kind& kind, Reader sender) {
    return std::ranges::all_of(kind.fields, [&](const Field& field) { return field.readers.contains(sender); });
}

// A kind whose necessary fields a role may not be given is no matter of that role at all.
bool is_matter_of(const Kind& kind, Reader sender) {
    return std::ranges::none_of(kind.fields,
                                [&](const Field& field) { return field.required && !field.readers.contains(sender); });
}

bool may_make_alone(const Change& change, Reader sender) {
    const Kind* kind = find_kind(change.kind);
    if (kind == nullptr || change.operation == Operation::erase || !is_matter_of(*kind, sender)) return false;
    const bool touches_all = change.operation == Operation::remove || change.operation == Operation::restore;
    if (touches_all && !may_touch_all_fields(*kind, sender)) return false;
    const auto paths = paths_written(change);
    return std::ranges::all_of(paths, [&](const std::string& path) { return may_write_path(*kind, path, sender); });
}

}  // namespace

bool may_make(const Change& change, Reader sender, const ChangeById& change_of) {
    if (sender == Reader::own) return true;
    if (!may_make_alone(change, sender)) return false;
    const auto names = changes_named_by(change);
    return std::ranges::all_of(names, [&](const Uuid& id) {
        const auto named = change_of(id);
        return named && may_make_alone(*named, sender);
    });
}

}  // namespace tedge::casebook
