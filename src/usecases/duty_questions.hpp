// Whether the facts call for a question, and why: one function for each.
#pragma once

#include "duty_facts.hpp"
#include "tedge/usecases/duties.hpp"

namespace tedge::usecases {

struct Asked {
    CalledFor called = CalledFor::unknown;
    std::string why{};
    std::vector<money::LegalSource> sources{};  // beside those of the question itself
    std::vector<std::string> remarks{};
};

// By the name of the question; linked: as for duties_of_case.
[[nodiscard]] Asked asked_by_facts(std::string_view duty, const DutyFacts& facts,
                                   const std::vector<LinkedSale>& linked);

}  // namespace tedge::usecases
