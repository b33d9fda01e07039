#include "tedge/dossier/recorded_chain.hpp"

#include <algorithm>

namespace tedge::dossier {

using casebook::Record;
using provenance::ChainLink;
using provenance::Edtf;
using provenance::LinkKind;

namespace {

LinkKind kind_of(const std::string& role) {
    if (role == "dealer") return LinkKind::dealer;
    if (role == "agent") return LinkKind::agent;
    if (role == "saleroom") return LinkKind::saleroom;
    return LinkKind::owner;  // a museum owns what it holds unless it says otherwise
}

std::optional<Edtf> date_of(const std::string& text, ChainLink& link) {
    if (text.empty()) return std::nullopt;
    if (auto date = provenance::parse_edtf(text)) return *date;
    link.details += (link.details.empty() ? "" : ", ") + text;
    return std::nullopt;
}

// "1610/1672": born and died; a single date is taken as the birth.
void read_life(const std::string& life, ChainLink& link) {
    const auto slash = life.find('/');
    link.born = date_of(life.substr(0, slash), link);
    if (slash != std::string::npos) link.died = date_of(life.substr(slash + 1), link);
}

ChainLink link_of(const Record& record) {
    const auto& body = record.body;
    ChainLink link;
    link.owner = body.text_or("owner");
    link.kind = kind_of(body.text_or("role"));
    link.transfer = body.text_or("transfer");
    link.place = body.text_or("place");
    read_life(body.text_or("life"), link);
    link.from = date_of(body.text_or("from"), link);
    link.to = date_of(body.text_or("to"), link);
    const std::string direct = body.text_or("direct_to_next");
    link.direct_to_next = direct == "yes"  ? provenance::DirectTransfer::yes
                          : direct == "no" ? provenance::DirectTransfer::no
                                           : provenance::DirectTransfer::unknown;
    const std::string doubt = body.text_or("doubt");
    link.doubt = doubt == "possibly"   ? provenance::Doubt::possibly
                 : doubt == "probably" ? provenance::Doubt::probably
                                       : provenance::Doubt::none;
    if (const std::string source = body.text_or("source"); !source.empty()) link.notes.push_back({source, {}});
    return link;
}

}  // namespace

provenance::OwnershipChain recorded_chain(std::vector<const Record*> links) {
    std::ranges::stable_sort(links, {}, [](const Record* r) { return r->body.number("order").value_or(0.0); });
    provenance::OwnershipChain chain;
    for (const Record* record : links)
        if (!record->body.text_or("owner").empty()) chain.push_back(link_of(*record));
    return chain;
}

provenance::OwnershipChain recorded_chain(const Extract& extract) {
    return recorded_chain(extract.of_kind("provenance_link"));
}

}  // namespace tedge::dossier
