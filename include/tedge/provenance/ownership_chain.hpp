// Who had the picture, one after the other, and what does not hold together in it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/provenance/edtf.hpp"

namespace tedge::provenance {

enum class LinkKind {
    owner,
    dealer,     // held it, often for sale on another's account
    agent,      // acted for an owner
    saleroom,   // sold it
    custodian,  // had it on loan or deposit
};

enum class DirectTransfer { unknown, yes, no };
enum class Doubt { none, possibly, probably };

struct SourceNote {
    std::string text;
    std::string source;  // where it is written; may be empty
};

struct ChainLink {
    std::string owner;
    LinkKind kind = LinkKind::owner;
    std::string transfer;  // how it came here: "by descent to", "sold to"; may be empty
    std::string place;
    std::string details;       // lot, stock number, price: printed as it is
    std::optional<Edtf> from;  // when it came; none: not known
    std::optional<Edtf> to;    // when it left; none: not known
    std::optional<Edtf> born;
    std::optional<Edtf> died;
    DirectTransfer direct_to_next = DirectTransfer::unknown;
    Doubt doubt = Doubt::none;
    bool estate = false;               // the heirs' estate may act after the death
    bool joint_with_previous = false;  // owns it together with the link before
    std::vector<SourceNote> notes;
};

// Earliest first.
using OwnershipChain = std::vector<ChainLink>;

enum class FindingKind {
    definite_gap,
    possible_gap,
    definite_overlap,
    possible_overlap,
    impossible_order,
    outside_life,
    exposure_1933_1945,
};

// "definite-gap", "possible-gap", "definite-overlap", "possible-overlap", "impossible-order", "outside-life",
// "exposure-1933-1945"
[[nodiscard]] std::string_view code_of(FindingKind kind);

struct ChainFinding {
    FindingKind kind = FindingKind::possible_gap;
    std::vector<std::size_t> links;  // one or two positions in the chain
    std::string text;                // one or two sentences
};

// What the dates say about the chain, in the order of the links.
//
// A link is held from some day in [a1, a2] to some day in [b1, b2]: the bounds of its two EDTF dates (open: infinite,
// not known: any), as in the four-point time spans of Linked Art 1.0. Days are proleptic Gregorian integers.
//   definite gap       next.a1 > b2
//   possible gap       not definite, next.a2 > b1, the transfer not stated to be direct
//   definite overlap   next.a2 < b1
//   possible overlap   not definite, next.a1 < b2, both dates stated, the transfer not stated to be direct
//   impossible order   next.b2 < a1, or a1 > b2 within one link
//   outside life       came or left wholly before the birth or after the death (leaving after it: unless by an estate)
//   exposure           a link's or a gap's possible span meets 1933-01-30 to 1945-05-08; an end nobody knows is taken
//                      to lie before the next known arrival, a start after the last known departure
// Gaps are sought behind whoever held it longest so far, so that an agent's or a saleroom's day inside an ownership is
// none; an agent or saleroom without "to" had it on the day of "from". Agents, salerooms, custodians and joint owners
// do not overlap with owners. The rules are our own arithmetic; the span is that of the National Socialist government
// (Washington Conference Principles, 1998; Best Practices, 2024, speak of 1933-1945). A finding is a question to be
// looked into, never a verdict on title.
[[nodiscard]] std::vector<ChainFinding> findings(const OwnershipChain& chain);

struct Statement {
    std::string chain;               // the provenance in one paragraph
    std::vector<std::string> notes;  // "[1] …", in the order of the paragraph

    [[nodiscard]] std::string text() const;  // paragraph, blank line, notes
};

// The conventions that museums print (American Association of Museums, "The AAM Guide to Provenance Research", 2001,
// as museum pages restate them): earliest to latest; life dates in brackets; dealers, salerooms, agents and custodians
// in parentheses; "possibly" or "probably" before what is doubtful; a semicolon where it passed directly to the next, a
// full stop where it did not or nobody knows; sources in numbered notes.
[[nodiscard]] Statement statement(const OwnershipChain& chain);

// Reads a chain from JSON text:
//   {"links": [{"owner": "Jan Visser", "kind": "owner", "transfer": "by descent to", "place": "Haarlem",
//               "details": "lot 45", "from": "1650~", "to": "1672", "born": "1610", "died": "1672",
//               "direct_to_next": "yes", "doubt": "probably", "estate": false, "joint_with_previous": false,
//               "notes": [{"text": "Inventory", "source": "town archive, no. 12"}, "a note without a source"]}]}
// Only "owner" is required. kind: owner, dealer, agent, saleroom, custodian. direct_to_next: "yes", "no", "unknown", or
// true, false, null. doubt: possibly, probably. Dates are EDTF; "" and null are dates nobody knows. Other fields in a
// link are refused, so that a misspelt one is not lost. Errors: provenance.not-json, provenance.no-links,
// provenance.no-owner, provenance.wrong-type, provenance.unknown-field, provenance.unknown-word, and those of
// parse_edtf; values hold "link" (counted from 1) and "field".
[[nodiscard]] Expected<OwnershipChain> read_chain(std::string_view json_text);

}  // namespace tedge::provenance
