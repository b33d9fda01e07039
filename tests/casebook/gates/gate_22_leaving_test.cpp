#include "paper_case.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

const Currency gbp = Currency::parse("GBP").value();

Act leaving(std::string_view text, Reader reader = Reader::buyer) {
    Act act;
    act.kind = "dossier";
    act.leaving_text = text;
    act.reader = reader;
    act.attribution = "circle of Joost van Ellen";
    act.says_unfinished = true;
    return act;
}

PaperCase sold_picture() {
    PaperCase paper;
    paper.patch_picture("asking_price", {{"minor", 1850000}, {"currency", "GBP"}});
    paper.patch_picture("private_note", "Seller was in a hurry. Might go to 12 in the room.");
    paper.patch_picture("left_out_signed_by", to_text(paper.author));
    paper.patch_picture("left_out_signed_on", "2026-05-01");
    paper.add("purchase", FieldValues().money("all_in", {892307, gbp}).money("hammer", {164000, gbp}));
    paper.add("cost_line",
              FieldValues().text("name", "relining").money_estimate("estimate", {30000, 45000, 90000}, gbp));
    paper.add("attribution_claim", FieldValues()
                                       .text("qualifier", "Circle of")
                                       .text("artist", "Joost van Ellen")
                                       .text("claimed_by", "Dr Imke Roder")
                                       .flag("ours", true));
    return paper;
}

bool leaks(PaperCase& paper, std::string_view text, Reader reader = Reader::buyer) {
    return ask_gate(22, paper.snapshot, leaving(text, reader)).state() == GateState::closed;
}

}  // namespace

TEST_CASE("Gate 22 closes on an internal figure however it is written") {
    PaperCase paper = sold_picture();
    for (const char* text : {"all in 8,923.07", "8923.07", "£8 923.07", "asking 18,500", "GBP 18500.00", "18500 gbp",
                             "hammer 1,640", "£1640", "about GBP 450 for it"}) {
        CAPTURE(text);
        CHECK(leaks(paper, text));
    }
    // A year, a width, a longer number, a decimal of something else.
    for (const char* text : {"painted about 1640", "812 × 450 mm", "no. 118,500", "1892307", "£11640", "0.1640"}) {
        CAPTURE(text);
        CHECK_FALSE(leaks(paper, text));
    }
}

TEST_CASE("Gate 22 closes on private names and on parts of notes, wherever the line breaks") {
    PaperCase paper = sold_picture();
    CHECK(leaks(paper, "Treated by Ute\n   Hain"));
    CHECK(leaks(paper, "UTE HAIN"));
    CHECK(leaks(paper, "we hear the seller was in a hurry."));
    CHECK_FALSE(leaks(paper, "Ute Hainard, painter"));
    CHECK_FALSE(leaks(paper, "by Dr Imke Roder"));                       // told outside by the field table
    CHECK_FALSE(leaks(paper, "Treated by Ute Hain", Reader::restorer));  // who may know the name
    paper.add("provenance_link", FieldValues().number("order", 1).text("owner", "Ute Hain"));
    CHECK_FALSE(leaks(paper, "Treated by Ute Hain"));  // public elsewhere in the same case
}

TEST_CASE("Gate 22 says which field leaked without repeating it") {
    PaperCase paper = sold_picture();
    const std::string sentence = ask_gate(22, paper.snapshot, leaving("8,923.07")).sentence();
    CHECK(sentence == "It holds what is not for this reader: \"All-in price\" (purchase).");
}

TEST_CASE("Gate 22 warns of unfinished work, an unsigned list, rights and other wording") {
    PaperCase paper = sold_picture();
    const Uuid photo = paper.photograph("recto", "normal", "varnished");
    Act act = leaving("A river landscape.");
    act.leaving_records = {photo};
    CHECK(missing(ask_gate(22, paper.snapshot, act), false) == Codes{"22.rights"});
    paper.patch(photo, "licence", "ours");
    CHECK(ask_gate(22, paper.snapshot, act).state() == GateState::open);

    act.says_unfinished = false;
    CHECK(missing(ask_gate(22, paper.snapshot, act), false) == Codes{"22.unfinished"});
    paper.patch_picture("unfinished", "retouching of the sky to come");
    CHECK(missing(ask_gate(22, paper.snapshot, act), false) == Codes{"22.unfinished"});  // recorded, but not said
    act.leaving_text += " Note: retouching of the sky to come.";
    CHECK(ask_gate(22, paper.snapshot, act).state() == GateState::open);

    act.attribution = "Joost van Ellen";
    CHECK(missing(ask_gate(22, paper.snapshot, act), false) == Codes{"22.wording"});
    act.attribution = " Circle of Joost van Ellen ";
    paper.patch_picture("left_out_signed_on", nullptr);
    nlohmann::json body = paper.snapshot.picture.body.as_json();
    body.erase("left_out_signed_on");
    paper.snapshot.picture.body = Body(body);
    CHECK(missing(ask_gate(22, paper.snapshot, act), false) == Codes{"22.left-out"});
}

TEST_CASE("Gate 22 holds the authorship beside the title against our claim, for whoever reads it") {
    PaperCase paper = sold_picture();
    const auto warned = [&](Reader reader, std::string_view said) {
        Act act = leaving("A river landscape.", reader);
        act.attribution = said;
        return missing(ask_gate(22, paper.snapshot, act), false) == Codes{"22.wording"};
    };
    // Insurers and carriers are not told the claim, but the name beside the title.
    for (const Reader reader : {Reader::buyer, Reader::carrier, Reader::insurer}) {
        CHECK_FALSE(warned(reader, "circle of Joost van Ellen"));
        CHECK(warned(reader, "Joost van Ellen"));
    }
    PaperCase plain;
    plain.patch_picture("left_out_signed_by", to_text(plain.author));
    plain.patch_picture("left_out_signed_on", "2026-05-01");
    paper = plain;
    // Where no claim is recorded, only who would be told it misses it.
    CHECK(warned(Reader::buyer, "Joost van Ellen"));
    CHECK_FALSE(warned(Reader::carrier, "Joost van Ellen"));
    CHECK_FALSE(warned(Reader::buyer, ""));
    Act unclaimed = leaving("A river landscape.");
    unclaimed.attribution = "Joost van Ellen";
    CHECK(ask_gate(22, paper.snapshot, unclaimed).missing.front().message.find("no claim of our own") !=
          std::string::npos);
    paper.add("attribution_claim",
              FieldValues().text("qualifier", "by").text("artist", "Joost van Ellen").flag("ours", true));
    for (const Reader reader : {Reader::buyer, Reader::carrier, Reader::insurer}) {
        CHECK_FALSE(warned(reader, "Joost van Ellen"));
        CHECK_FALSE(warned(reader, "By Joost van Ellen"));
        CHECK(warned(reader, "circle of Joost van Ellen"));
    }
}
