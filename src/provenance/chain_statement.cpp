#include <fmt/format.h>

#include <utility>

#include "tedge/base/text.hpp"
#include "tedge/provenance/date_words.hpp"
#include "tedge/provenance/ownership_chain.hpp"

namespace tedge::provenance {

namespace {

bool is_event(const ChainLink& link) {
    return !link.to && (link.kind == LinkKind::agent || link.kind == LinkKind::saleroom);
}

std::string when(const ChainLink& link) {
    return is_event(link) && link.from ? words_for(*link.from) : held_words(link.from, link.to);
}

// "Jan Visser [1610–1672], Haarlem, 1650–1672, lot 45"
std::string holder(const ChainLink& link) {
    const std::string life = life_words(link.born, link.died);
    std::string text = life.empty() ? link.owner : fmt::format("{} [{}]", link.owner, life);
    for (const std::string& part : {link.place, when(link), link.details}) {
        if (!part.empty()) text += ", " + part;
    }
    return link.kind == LinkKind::owner ? text : fmt::format("({})", text);
}

std::string doubt_word(Doubt doubt) {
    switch (doubt) {
        case Doubt::possibly:
            return "possibly ";
        case Doubt::probably:
            return "probably ";
        case Doubt::none:
            break;
    }
    return "";
}

std::string link_text(const ChainLink& link) {
    return doubt_word(link.doubt) + (link.transfer.empty() ? "" : link.transfer + " ") + holder(link);
}

std::string note_text(std::size_t number, const SourceNote& note) {
    const std::string text = note.text.empty() ? note.source : note.text;
    const bool both = !note.text.empty() && !note.source.empty();
    return fmt::format("[{}] {}{}", number, text, both ? fmt::format(" ({})", note.source) : "");
}

std::string mark_after(const OwnershipChain& chain, std::size_t at) {
    if (at + 1 == chain.size()) return ".";
    if (chain[at + 1].joint_with_previous) return ", jointly with";
    return chain[at].direct_to_next == DirectTransfer::yes ? ";" : ".";
}

}  // namespace

std::string Statement::text() const {
    return notes.empty() ? chain : chain + "\n\n" + join(notes, "\n");
}

Statement statement(const OwnershipChain& chain) {
    Statement result;
    bool sentence_begins = true;
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const std::string text = link_text(chain[i]);
        const std::string mark = mark_after(chain, i);
        if (i > 0) result.chain += " ";
        result.chain += sentence_begins ? capitalised(text) : text;
        result.chain += mark;
        for (const SourceNote& note : chain[i].notes) {
            result.notes.push_back(note_text(result.notes.size() + 1, note));
            result.chain += fmt::format(" [{}]", result.notes.size());
        }
        sentence_begins = mark == ".";
    }
    return result;
}

}  // namespace tedge::provenance
