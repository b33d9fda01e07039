#include "bag_path.hpp"

#include <QString>

#include "tedge/base/text.hpp"

namespace tedge::dossier {

namespace {

bool is_ascii_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
bool is_variable_character(char c) {
    return is_ascii_letter(c) || c == '_' || (c >= '0' && c <= '9');
}

// "%WINDIR%": some shells put a folder of their own in its place.
bool names_variable(std::string_view path) {
    for (std::size_t open = path.find('%'); open != std::string_view::npos; open = path.find('%', open + 1)) {
        std::size_t end = open + 1;
        if (end >= path.size() || !is_ascii_letter(path[end])) continue;
        while (end < path.size() && is_variable_character(path[end])) ++end;
        if (end < path.size() && path[end] == '%') return true;
    }
    return false;
}

bool climbs_up(std::string path) {
    for (char& c : path)
        if (c == '\\') c = '/';
    for (const auto part : split(path, '/'))
        if (part == "..") return true;
    return false;
}

QString to_qstring(std::string_view utf8) {
    return QString::fromUtf8(utf8.data(), static_cast<qsizetype>(utf8.size()));
}

int hex_digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

}  // namespace

std::string percent_encoded(std::string_view path) {
    std::string out;
    for (const char c : path) {
        if (c == '\n') {
            out += "%0A";
        } else if (c == '\r') {
            out += "%0D";
        } else if (c == '%') {
            out += "%25";
        } else {
            out += c;
        }
    }
    return out;
}

std::string percent_decoded(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const int high = text[i] == '%' && i + 2 < text.size() ? hex_digit(text[i + 1]) : -1;
        const int code = high >= 0 && hex_digit(text[i + 2]) >= 0 ? high * 16 + hex_digit(text[i + 2]) : -1;
        // Only these three are ever encoded; any other "%41" is a name that happens to look so.
        if (code == '\n' || code == '\r' || code == '%') {
            out += static_cast<char>(code);
            i += 2;
        } else {
            out += text[i];
        }
    }
    return out;
}

std::optional<std::string> danger_of(std::string_view path) {
    if (path.empty()) return "is empty";
    if (path.find('\0') != std::string_view::npos) return "holds a zero byte";
    if (path.front() == '/' || path.front() == '\\') return "is absolute";
    if (path.front() == '~') return "begins with a home folder";
    if (path.size() > 1 && path[1] == ':' && is_ascii_letter(path[0])) return "begins with a drive letter";
    if (climbs_up(std::string(path))) return "climbs out of its folder";
    if (names_variable(path)) return "names a variable of the system";
    return std::nullopt;
}

std::string composed_form(std::string_view utf8) {
    return to_qstring(utf8).normalized(QString::NormalizationForm_C).toStdString();
}

std::string folded_form(std::string_view utf8) {
    return to_qstring(utf8).normalized(QString::NormalizationForm_C).toCaseFolded().toStdString();
}

}  // namespace tedge::dossier
