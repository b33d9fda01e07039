// Reading the text files of a bag: their encoding, their lines, the entries of a manifest.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tedge::dossier {

// The text as UTF-8, or nothing when the bytes do not fit the encoding or the encoding is not one of UTF-8, UTF-16,
// UTF-32, US-ASCII, ISO-8859-1 (names as IANA writes them, either case). A leading byte order mark is taken off.
[[nodiscard]] std::optional<std::string> decoded_text(std::string_view bytes, std::string_view encoding);
[[nodiscard]] bool is_known_encoding(std::string_view encoding);
[[nodiscard]] bool has_utf8_mark(std::string_view bytes);

// Lines ended by LF, CR or CRLF; the last may go without.
[[nodiscard]] std::vector<std::string> lines_of(std::string_view text);

// "checksum  path" of a manifest. The checksum is lower case. star: the path was written "*path", as some checksum
// programs mark binary mode; dot: it began with "./". Both are taken off.
struct ManifestEntry {
    std::string checksum;
    std::string written_path;  // without star and dot, not decoded
    bool star = false;
    bool dot = false;
};
[[nodiscard]] std::optional<ManifestEntry> parse_manifest_line(std::string_view line);

// "label: value" with the lines that continue it; strict: exactly one blank after the colon (V1.0 section 2.2.2).
struct TagField {
    std::string label;
    std::string value;
};
struct TagFields {
    std::vector<TagField> fields;
    std::vector<std::string> malformed;  // lines that are no field
};
[[nodiscard]] TagFields parse_tag_fields(std::string_view text, bool strict);

// "URL length path" of fetch.txt; false when the URL is not absolute or the length neither a number nor "-".
struct FetchEntry {
    std::string url;
    std::string written_path;
};
[[nodiscard]] std::optional<FetchEntry> parse_fetch_line(std::string_view line);

}  // namespace tedge::dossier
