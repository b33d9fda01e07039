#include "bag_tag_file.hpp"

#include <QStringConverter>
#include <algorithm>

#include "tedge/base/text.hpp"

namespace tedge::dossier {

namespace {

constexpr std::string_view blanks = " \t";

std::optional<QStringConverter::Encoding> converter_of(std::string_view encoding) {
    const std::string name = lowered_ascii(encoding);
    if (name == "utf-8" || name == "us-ascii") return QStringConverter::Utf8;
    if (name == "utf-16") return QStringConverter::Utf16;
    if (name == "utf-16be") return QStringConverter::Utf16BE;
    if (name == "utf-16le") return QStringConverter::Utf16LE;
    if (name == "utf-32") return QStringConverter::Utf32;
    if (name == "iso-8859-1" || name == "latin1") return QStringConverter::Latin1;
    return std::nullopt;
}

bool is_hexadecimal(std::string_view text) {
    return !text.empty() && text.find_first_not_of("0123456789abcdefABCDEF") == std::string_view::npos;
}

bool is_number(std::string_view text) {
    return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

// scheme ":" and something behind it (RFC 3986 section 3.1).
bool is_absolute_uri(std::string_view text) {
    const auto colon = text.find(':');
    if (colon == std::string_view::npos || colon == 0 || colon + 1 == text.size()) return false;
    const std::string scheme = lowered_ascii(text.substr(0, colon));
    return scheme[0] >= 'a' && scheme[0] <= 'z' &&
           scheme.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789+-.") == std::string::npos;
}

}  // namespace

std::optional<std::string> decoded_text(std::string_view bytes, std::string_view encoding) {
    const auto converter = converter_of(encoding);
    if (!converter) return std::nullopt;
    QStringDecoder decoder(*converter);
    QString text = decoder.decode(QByteArrayView(bytes.data(), static_cast<qsizetype>(bytes.size())));
    if (decoder.hasError()) return std::nullopt;
    if (text.startsWith(QChar(QChar::ByteOrderMark))) text.remove(0, 1);
    return text.toStdString();
}

bool is_known_encoding(std::string_view encoding) {
    return converter_of(encoding).has_value();
}

bool has_utf8_mark(std::string_view bytes) {
    return bytes.starts_with("\xEF\xBB\xBF");
}

std::vector<std::string> lines_of(std::string_view text) {
    std::vector<std::string> lines;
    while (!text.empty()) {
        const auto end = text.find_first_of("\r\n");
        if (end == std::string_view::npos) {
            lines.emplace_back(text);
            break;
        }
        lines.emplace_back(text.substr(0, end));
        const bool both = text.substr(end).starts_with("\r\n");
        text.remove_prefix(end + (both ? 2 : 1));
    }
    return lines;
}

std::optional<ManifestEntry> parse_manifest_line(std::string_view line) {
    const auto gap = line.find_first_of(blanks);
    if (gap == std::string_view::npos || !is_hexadecimal(line.substr(0, gap))) return std::nullopt;
    const auto start = line.find_first_not_of(blanks, gap);
    if (start == std::string_view::npos) return std::nullopt;
    ManifestEntry entry;
    entry.checksum = lowered_ascii(line.substr(0, gap));
    std::string_view path = line.substr(start);
    if (path.starts_with('*')) {
        entry.star = true;
        path.remove_prefix(1);
    }
    while (path.starts_with("./")) {
        entry.dot = true;
        path.remove_prefix(2);
    }
    if (path.empty()) return std::nullopt;
    entry.written_path = std::string(path);
    return entry;
}

TagFields parse_tag_fields(std::string_view text, bool strict) {
    TagFields parsed;
    for (const auto& line : lines_of(text)) {
        if (trimmed(line).empty()) continue;
        if (blanks.find(line[0]) != std::string_view::npos) {
            if (parsed.fields.empty()) {
                parsed.malformed.push_back(line);
            } else {
                parsed.fields.back().value += " " + std::string(trimmed(line));
            }
            continue;
        }
        const auto colon = line.find(':');
        const bool labelled = colon != std::string::npos && colon > 0;
        const bool one_blank = labelled && colon + 1 < line.size() && blanks.find(line[colon + 1]) != blanks.npos &&
                               (colon + 2 == line.size() || blanks.find(line[colon + 2]) == blanks.npos);
        const bool tight = labelled && blanks.find(line[colon - 1]) == blanks.npos;
        if (!labelled || (strict && !(one_blank && tight))) {
            parsed.malformed.push_back(line);
            continue;
        }
        parsed.fields.push_back({std::string(trimmed(std::string_view(line).substr(0, colon))),
                                 std::string(trimmed(std::string_view(line).substr(colon + 1)))});
    }
    return parsed;
}

std::optional<FetchEntry> parse_fetch_line(std::string_view line) {
    const auto url_end = line.find_first_of(blanks);
    if (url_end == std::string_view::npos) return std::nullopt;
    const auto length_start = line.find_first_not_of(blanks, url_end);
    if (length_start == std::string_view::npos) return std::nullopt;
    const auto length_end = line.find_first_of(blanks, length_start);
    if (length_end == std::string_view::npos) return std::nullopt;
    const auto path_start = line.find_first_not_of(blanks, length_end);
    if (path_start == std::string_view::npos) return std::nullopt;
    const auto length = line.substr(length_start, length_end - length_start);
    const auto url = line.substr(0, url_end);
    if (!is_absolute_uri(url) || !(length == "-" || is_number(length))) return std::nullopt;
    return FetchEntry{std::string(url), std::string(line.substr(path_start))};
}

}  // namespace tedge::dossier
