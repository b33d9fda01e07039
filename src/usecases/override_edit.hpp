// The record of an override, the same for every act.
#pragma once

#include "tedge/casebook/casebook.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

// Errors: gate.no-reason, unless a person is named and says why.
[[nodiscard]] Expected<void> check_is_said(const Override& wanted);

// What was decided, by whom, today, and why. The caller says which act it lets pass.
// Errors: those of finding the person named.
[[nodiscard]] Expected<casebook::Edit> override_edit(const Acting& acting, const Override& wanted);

}  // namespace tedge::usecases
