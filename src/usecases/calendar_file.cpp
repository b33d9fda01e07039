#include "tedge/usecases/calendar_file.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tedge/base/text.hpp"

namespace tedge::usecases {

namespace {

constexpr std::size_t folded_octets = 75;  // RFC 5545, 3.1: without the line end

// A line may be broken anywhere between two characters; a continuation begins with a blank, which counts.
void put_folded(std::string& out, std::string_view line) {
    std::size_t room = folded_octets;
    while (line.size() > room) {
        std::size_t cut = room;
        while (cut > 0 && (static_cast<unsigned char>(line[cut]) & 0xC0U) == 0x80U) --cut;
        out.append(line.substr(0, cut)).append("\r\n ");
        line.remove_prefix(cut);
        room = folded_octets - 1;
    }
    out.append(line).append("\r\n");
}

// 3.3.11: backslash, semicolon, comma and line ends are written with a backslash.
std::string escaped_calendar_text(std::string_view text) {
    std::string line_ends(text);
    std::string unified;
    for (std::size_t i = 0; i < line_ends.size(); ++i) {
        if (line_ends[i] == '\r' && i + 1 < line_ends.size() && line_ends[i + 1] == '\n') continue;
        unified += line_ends[i] == '\r' ? '\n' : line_ends[i];
    }
    std::string out;
    for (const char c : without_controls(unified, "\n\t")) {
        if (c == '\n') {
            out += "\\n";
            continue;
        }
        if (c == '\\' || c == ';' || c == ',') out += '\\';
        out += c;
    }
    return out;
}

std::string calendar_day(std::chrono::year_month_day day) {
    std::string text = to_text(day);
    std::erase(text, '-');
    return text;
}

// "20260305T143000Z"
std::string calendar_moment(Instant instant) {
    std::string text = to_text(instant).substr(0, 19);
    std::erase_if(text, [](char c) { return c == '-' || c == ':'; });
    return text + "Z";
}

void put_alarm(std::string& out, const CalendarEntry& entry, int days) {
    put_folded(out, "BEGIN:VALARM");
    put_folded(out, "ACTION:DISPLAY");
    put_folded(out, "DESCRIPTION:" + escaped_calendar_text(entry.summary));
    put_folded(out, days == 0 ? std::string("TRIGGER:PT0S") : fmt::format("TRIGGER:-P{}D", days));
    put_folded(out, "END:VALARM");
}

}  // namespace

std::string calendar_text(const std::vector<CalendarEntry>& entries, const CalendarOptions& options) {
    std::string out;
    put_folded(out, "BEGIN:VCALENDAR");
    put_folded(out, "VERSION:2.0");
    put_folded(out, "PRODID:-//Tacking Edge//Deadlines//EN");
    for (const CalendarEntry& entry : entries) {
        put_folded(out, "BEGIN:VEVENT");
        put_folded(out, "UID:" + escaped_calendar_text(entry.uid));
        put_folded(out, "DTSTAMP:" + calendar_moment(entry.last_written));
        put_folded(
            out, entry.at ? "DTSTART:" + calendar_moment(*entry.at) : "DTSTART;VALUE=DATE:" + calendar_day(entry.day));
        put_folded(out, "SUMMARY:" + escaped_calendar_text(entry.summary));
        if (!entry.description.empty()) put_folded(out, "DESCRIPTION:" + escaped_calendar_text(entry.description));
        put_folded(out, "CLASS:PRIVATE");
        put_folded(out, "TRANSP:TRANSPARENT");  // falls due, takes up no time
        if (options.remind_days) put_alarm(out, entry, *options.remind_days);
        put_folded(out, "END:VEVENT");
    }
    put_folded(out, "END:VCALENDAR");
    return out;
}

}  // namespace tedge::usecases
