// The JSON form of a chain of ownership.
#include <fmt/format.h>

#include <array>
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <utility>

#include "tedge/provenance/ownership_chain.hpp"

namespace tedge::provenance {

namespace {

using nlohmann::json;

constexpr std::array known_fields{"owner",
                                  "kind",
                                  "transfer",
                                  "place",
                                  "details",
                                  "from",
                                  "to",
                                  "born",
                                  "died",
                                  "direct_to_next",
                                  "doubt",
                                  "estate",
                                  "joint_with_previous",
                                  "notes"};

// One link of the file while it is read: where we are is part of every error.
class LinkReader {
public:
    LinkReader(const json& object, std::size_t number) : object_(object), number_(number) {}

    Expected<ChainLink> read() {
        if (!object_.is_object()) return refuse("provenance.wrong-type", "", "is not an object");
        for (const auto& [field, value] : object_.items()) {
            if (std::ranges::find(known_fields, field) == known_fields.end()) {
                return refuse("provenance.unknown-field", field, "is not a field of a link");
            }
        }
        ChainLink link;
        read_words(link);
        read_dates(link);
        read_choices(link);
        read_notes(link);
        if (!error_ && link.owner.empty()) return refuse("provenance.no-owner", "owner", "is missing");
        if (error_) return std::unexpected(*error_);
        return link;
    }

private:
    void read_words(ChainLink& link) {
        link.owner = text("owner");
        link.transfer = text("transfer");
        link.place = text("place");
        link.details = text("details");
    }

    void read_dates(ChainLink& link) {
        link.from = date("from");
        link.to = date("to");
        link.born = date("born");
        link.died = date("died");
    }

    void read_choices(ChainLink& link) {
        link.kind = one_of<LinkKind>("kind", {{"", LinkKind::owner},
                                              {"owner", LinkKind::owner},
                                              {"dealer", LinkKind::dealer},
                                              {"agent", LinkKind::agent},
                                              {"saleroom", LinkKind::saleroom},
                                              {"custodian", LinkKind::custodian}});
        link.doubt =
            one_of<Doubt>("doubt", {{"", Doubt::none}, {"possibly", Doubt::possibly}, {"probably", Doubt::probably}});
        link.direct_to_next = direct_to_next();
        link.estate = yes("estate");
        link.joint_with_previous = yes("joint_with_previous");
    }

    void read_notes(ChainLink& link) {
        const json& notes = value("notes");
        if (notes.is_null()) return;
        if (!notes.is_array()) return note_error("provenance.wrong-type", "notes", "is not a list");
        for (const json& note : notes) {
            if (note.is_string()) {
                link.notes.push_back({note.get<std::string>(), ""});
            } else if (note.is_object() && is_text_or_absent(note, "text") && is_text_or_absent(note, "source")) {
                link.notes.push_back({note.value("text", ""), note.value("source", "")});
            } else {
                note_error("provenance.wrong-type", "notes", "holds something that is neither text nor {text, source}");
            }
        }
    }

    [[nodiscard]] static bool is_text_or_absent(const json& object, const char* field) {
        return !object.contains(field) || object.at(field).is_string();
    }

    [[nodiscard]] const json& value(const char* field) const {
        static const json absent;
        return object_.contains(field) ? object_.at(field) : absent;
    }

    std::string text(const char* field) {
        const json& found = value(field);
        if (found.is_null()) return "";
        if (found.is_string()) return found.get<std::string>();
        note_error("provenance.wrong-type", field, "is not text");
        return "";
    }

    bool yes(const char* field) {
        const json& found = value(field);
        if (found.is_boolean()) return found.get<bool>();
        if (!found.is_null()) note_error("provenance.wrong-type", field, "is neither true nor false");
        return false;
    }

    std::optional<Edtf> date(const char* field) {
        const std::string written = text(field);
        if (written.empty()) return std::nullopt;
        auto read = parse_edtf(written);
        if (read) return *read;
        read.error().message = fmt::format("Link {}, {}: {}", number_, field, read.error().message);
        read.error().values.insert({{"link", fmt::to_string(number_)}, {"field", field}});
        if (!error_) error_ = read.error();
        return std::nullopt;
    }

    DirectTransfer direct_to_next() {
        const json& found = value("direct_to_next");
        if (found.is_boolean()) return found.get<bool>() ? DirectTransfer::yes : DirectTransfer::no;
        return one_of<DirectTransfer>("direct_to_next", {{"", DirectTransfer::unknown},
                                                         {"unknown", DirectTransfer::unknown},
                                                         {"yes", DirectTransfer::yes},
                                                         {"no", DirectTransfer::no}});
    }

    template <class Choice>
    Choice one_of(const char* field, std::initializer_list<std::pair<std::string_view, Choice>> choices) {
        const std::string word = text(field);
        for (const auto& [name, choice] : choices) {
            if (word == name) return choice;
        }
        note_error("provenance.unknown-word", field, fmt::format("cannot be \"{}\"", word));
        return choices.begin()->second;
    }

    [[nodiscard]] std::unexpected<Error> refuse(std::string code, const std::string& field,
                                                std::string_view what) const {
        return fail(std::move(code), fmt::format("Link {}: {} {}.", number_, field.empty() ? "it" : field, what),
                    "See the description of the file in the user guide.",
                    {{"link", fmt::to_string(number_)}, {"field", field}});
    }

    void note_error(std::string code, const char* field, std::string_view what) {
        if (!error_) error_ = refuse(std::move(code), field, what).error();
    }

    const json& object_;
    std::size_t number_;
    std::optional<Error> error_;  // the first
};

}  // namespace

Expected<OwnershipChain> read_chain(std::string_view json_text) {
    const json file = json::parse(json_text, nullptr, false);
    if (file.is_discarded())
        return fail("provenance.not-json", "The file is not JSON.", "Check brackets, commas and quotes.");
    if (!file.is_object() || !file.contains("links") || !file.at("links").is_array()) {
        return fail("provenance.no-links", "The file has no list named links.",
                    "Write {\"links\": [{\"owner\": …}, …]}, the earliest first.");
    }
    OwnershipChain chain;
    for (const json& object : file.at("links")) {
        auto link = LinkReader(object, chain.size() + 1).read();
        if (!link) return pass_on(link);
        chain.push_back(std::move(*link));
    }
    return chain;
}

}  // namespace tedge::provenance
