#include "override_edit.hpp"

#include "tedge/base/text.hpp"

namespace tedge::usecases {

Expected<void> check_is_said(const Override& wanted) {
    if (!trimmed(wanted.reason).empty() && !trimmed(wanted.name).empty()) return {};
    return fail("gate.no-reason", "An override needs a name and a reason.", "Write who decides this, and why.");
}

Expected<casebook::Edit> override_edit(const Acting& acting, const Override& wanted) {
    const auto person = acting.book.person_named(trimmed(wanted.name));
    if (!person) return pass_on(person);
    casebook::Edit edit;
    edit.case_id = wanted.case_id;
    edit.kind = "gate_override";
    edit.values.integer("gate", wanted.gate).record("by", *person).text("reason", trimmed(wanted.reason));
    edit.values.text("requirement", wanted.requirement).text("on", to_text(acting.clock.now()).substr(0, 10));
    return edit;
}

}  // namespace tedge::usecases
