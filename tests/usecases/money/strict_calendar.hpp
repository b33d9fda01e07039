// Reads iCalendar by the grammar of RFC 5545 alone and accepts nothing beyond it (sections 3.1, 3.2, 3.3.4
// to 3.3.11, 3.6, 3.6.1, 3.6.6; the rules from memory of the RFC). Written apart from the writer and sharing no line
// with it.
#pragma once

#include <algorithm>
#include <map>
#include <optional>
#include <regex>
#include <stdexcept>
#include <string>
#include <vector>

namespace tedge::test {

struct CalendarProperty {
    std::string name;
    std::map<std::string, std::string> parameters;
    std::string value;  // as written
};

struct CalendarComponent {
    std::string name;
    std::vector<CalendarProperty> properties;
    std::vector<CalendarComponent> parts;

    const CalendarProperty& only(const std::string& wanted) const {
        const CalendarProperty* found = nullptr;
        for (const auto& property : properties) {
            if (property.name != wanted) continue;
            if (found != nullptr) throw std::runtime_error(wanted + " stands twice in " + name);
            found = &property;
        }
        if (found == nullptr) throw std::runtime_error(name + " has no " + wanted);
        return *found;
    }
};

// What a TEXT value says (3.3.11).
inline std::string said_text(const std::string& value) {
    std::string out;
    for (std::size_t i = 0; i < value.size(); ++i) {
        const auto c = static_cast<unsigned char>(value[i]);
        if (c < 0x20 && c != '\t') throw std::runtime_error("a control character in a text");
        if (c == ';' || c == ',') throw std::runtime_error("a bare separator in a text");
        if (c != '\\') {
            out += value[i];
            continue;
        }
        if (++i == value.size()) throw std::runtime_error("a backslash at the end");
        const char next = value[i];
        if (next == 'n' || next == 'N') {
            out += '\n';
        } else if (next == '\\' || next == ';' || next == ',') {
            out += next;
        } else {
            throw std::runtime_error("an unknown escape");
        }
    }
    return out;
}

class StrictCalendarReader {
public:
    // Throws std::runtime_error that says what is against the rules.
    static CalendarComponent read(const std::string& bytes) {
        StrictCalendarReader reader;
        reader.take_lines(bytes);
        CalendarComponent calendar = reader.component();
        if (calendar.name != "VCALENDAR") throw std::runtime_error("it does not begin with VCALENDAR");
        if (reader.next_ != reader.lines_.size()) throw std::runtime_error("something follows the calendar");
        check_calendar(calendar);
        return calendar;
    }

private:
    static std::size_t length_of_character(unsigned char first) {
        if (first < 0x80) return 1;
        if (first >= 0xC2 && first < 0xE0) return 2;
        if (first >= 0xE0 && first < 0xF0) return 3;
        if (first >= 0xF0 && first < 0xF5) return 4;
        throw std::runtime_error("a line does not begin or go on with a whole character");
    }

    static void check_utf8(const std::string& line) {
        for (std::size_t i = 0; i < line.size();) {
            const std::size_t length = length_of_character(static_cast<unsigned char>(line[i]));
            if (i + length > line.size()) throw std::runtime_error("a character is cut by a fold");
            for (std::size_t k = 1; k < length; ++k)
                if ((static_cast<unsigned char>(line[i + k]) & 0xC0U) != 0x80U) throw std::runtime_error("not UTF-8");
            i += length;
        }
    }

    void take_lines(const std::string& bytes) {
        std::size_t at = 0;
        while (at < bytes.size()) {
            const auto end = bytes.find("\r\n", at);
            if (end == std::string::npos) throw std::runtime_error("the last line has no end");
            const std::string line = bytes.substr(at, end - at);
            if (line.find_first_of("\r\n") != std::string::npos) throw std::runtime_error("a bare CR or LF");
            if (line.size() > 75) throw std::runtime_error("a line is longer than 75 octets");
            if (line.empty()) throw std::runtime_error("an empty line");
            check_utf8(line);
            if (line.front() == ' ' || line.front() == '\t') {
                if (lines_.empty()) throw std::runtime_error("a continuation of nothing");
                lines_.back() += line.substr(1);
            } else {
                lines_.push_back(line);
            }
            at = end + 2;
        }
    }

    static CalendarProperty property_in(const std::string& line) {
        static const std::regex form(R"re(([A-Za-z0-9-]+)((?:;[A-Za-z0-9-]+=(?:"[^"]*"|[^";:,]*))*):([\s\S]*))re");
        std::smatch found;
        if (!std::regex_match(line, found, form)) throw std::runtime_error("no content line: " + line);
        CalendarProperty property{found[1], {}, found[3]};
        const std::string parameters = found[2];
        static const std::regex one(R"re(;([A-Za-z0-9-]+)=("[^"]*"|[^";:,]*))re");
        for (std::sregex_iterator each(parameters.begin(), parameters.end(), one), end; each != end; ++each)
            property.parameters[(*each)[1]] = (*each)[2];
        return property;
    }

    CalendarComponent component() {
        if (next_ >= lines_.size()) throw std::runtime_error("it ends too early");
        const CalendarProperty begin = property_in(lines_[next_++]);
        if (begin.name != "BEGIN") throw std::runtime_error("a component does not begin");
        CalendarComponent made{begin.value, {}, {}};
        while (true) {
            if (next_ >= lines_.size()) throw std::runtime_error(made.name + " does not end");
            const CalendarProperty property = property_in(lines_[next_]);
            if (property.name == "BEGIN") {
                made.parts.push_back(component());
                continue;
            }
            ++next_;
            if (property.name == "END") {
                if (property.value != made.name) throw std::runtime_error("another component ends");
                return made;
            }
            made.properties.push_back(property);
        }
    }

    static void expect(const std::string& value, const char* form, const std::string& of) {
        if (!std::regex_match(value, std::regex(form))) throw std::runtime_error(of + " is not of its form: " + value);
    }

    static void check_calendar(const CalendarComponent& calendar) {
        if (calendar.only("VERSION").value != "2.0") throw std::runtime_error("another version");
        static_cast<void>(said_text(calendar.only("PRODID").value));
        if (calendar.parts.empty()) throw std::runtime_error("a calendar of nothing");
        std::vector<std::string> uids;
        for (const auto& event : calendar.parts) {
            if (event.name != "VEVENT") throw std::runtime_error("an unknown component");
            check_event(event);
            uids.push_back(event.only("UID").value);
        }
        std::ranges::sort(uids);
        if (std::ranges::adjacent_find(uids) != uids.end()) throw std::runtime_error("a UID stands twice");
    }

    static void check_event(const CalendarComponent& event) {
        static const char* const moment = R"(\d{4}(0[1-9]|1[0-2])(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3])[0-5]\d[0-5]\dZ)";
        static const char* const day = R"(\d{4}(0[1-9]|1[0-2])(0[1-9]|[12]\d|3[01]))";
        if (event.only("UID").value.empty()) throw std::runtime_error("an empty UID");
        expect(event.only("DTSTAMP").value, moment, "DTSTAMP");
        const CalendarProperty& start = event.only("DTSTART");
        const auto kind = start.parameters.find("VALUE");
        expect(start.value, kind != start.parameters.end() && kind->second == "DATE" ? day : moment, "DTSTART");
        for (const auto& property : event.properties) {
            if (property.name == "SUMMARY" || property.name == "DESCRIPTION")
                static_cast<void>(said_text(property.value));
            if (property.name == "CLASS") expect(property.value, "PUBLIC|PRIVATE|CONFIDENTIAL", "CLASS");
            if (property.name == "TRANSP") expect(property.value, "OPAQUE|TRANSPARENT", "TRANSP");
        }
        for (const auto& alarm : event.parts) {
            if (alarm.name != "VALARM") throw std::runtime_error("an unknown part of an event");
            expect(alarm.only("ACTION").value, "DISPLAY", "ACTION");
            static_cast<void>(said_text(alarm.only("DESCRIPTION").value));
            expect(alarm.only("TRIGGER").value, R"([+-]?P(\d+W|\d+D(T(\d+H)?(\d+M)?(\d+S)?)?|T(\d+H)?(\d+M)?(\d+S)?))",
                   "TRIGGER");
        }
    }

    std::vector<std::string> lines_;
    std::size_t next_ = 0;
};

}  // namespace tedge::test
