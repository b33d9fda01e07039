// Paths as they stand in a bag's manifests.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace tedge::dossier {

// LF, CR and % as %0A, %0D, %25, nothing else (RFC 8493 section 2.1.3), and back; hexadecimal of either case.
[[nodiscard]] std::string percent_encoded(std::string_view path);
[[nodiscard]] std::string percent_decoded(std::string_view text);

// Why a path must not be opened: it could lead out of the bag on some machine (RFC 8493 section 5.2 to 5.4).
// Nothing when it is harmless.
[[nodiscard]] std::optional<std::string> danger_of(std::string_view path);

// Unicode normalisation form C, and that with case folded: two names that agree in it are one file on some machines.
[[nodiscard]] std::string composed_form(std::string_view utf8);
[[nodiscard]] std::string folded_form(std::string_view utf8);

}  // namespace tedge::dossier
