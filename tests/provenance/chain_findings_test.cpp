#include <catch2/catch.hpp>

#include "tedge/provenance/ownership_chain.hpp"

using namespace tedge::provenance;

namespace {

ChainLink link(const char* owner, const char* from, const char* to, DirectTransfer direct = DirectTransfer::unknown,
               LinkKind kind = LinkKind::owner) {
    ChainLink made;
    made.owner = owner;
    if (*from != '\0') made.from = parse_edtf(from).value();
    if (*to != '\0') made.to = parse_edtf(to).value();
    made.direct_to_next = direct;
    made.kind = kind;
    return made;
}

// "definite-gap 0 1; possible-overlap 1 2"
std::string codes(const OwnershipChain& chain) {
    std::string text;
    for (const ChainFinding& finding : findings(chain)) {
        CHECK_FALSE(finding.text.empty());
        text += (text.empty() ? "" : "; ") + std::string(code_of(finding.kind));
        for (const std::size_t i : finding.links) text += " " + std::to_string(i);
    }
    return text;
}

constexpr auto yes = DirectTransfer::yes;

}  // namespace

// All owners are invented. The tests follow the table of rules in ownership_chain.hpp, worked by hand.
TEST_CASE("A definite gap begins after the last day the one can have had it") {
    CHECK(codes({link("Aalders", "1700", "1710"), link("Brandt", "1720", "1730")}) == "definite-gap 0 1");
    CHECK(codes({link("Aalders", "1700", "1710-03-01"), link("Brandt", "1710-03-02", "1730")}) == "definite-gap 0 1");
    CHECK(codes({link("Aalders", "1700", "171X"), link("Brandt", "1719-12-31", "1730")}).find("definite") ==
          std::string::npos);
    CHECK(codes({link("Aalders", "1700", "1710", yes), link("Brandt", "1720", "1730")}) == "definite-gap 0 1");
}

TEST_CASE("A possible gap vanishes when the transfer is stated to be direct") {
    CHECK(codes({link("Aalders", "1700", "1710"), link("Brandt", "1710", "1730")}) ==
          "possible-gap 0 1; possible-overlap 0 1");
    CHECK(codes({link("Aalders", "1700", "1710", yes), link("Brandt", "1710", "1730")}).empty());
    CHECK(codes({link("Aalders", "1700", "1710-03-01"), link("Brandt", "1710-03-01", "1730")}).empty());
    CHECK(codes({link("Aalders", "1700", ""), link("Brandt", "1710", "1730")}) == "possible-gap 0 1");
    CHECK(codes({link("Aalders", "1700", "1710"), link("Brandt", "", "1730")}) == "possible-gap 0 1");
    CHECK(codes({link("Aalders", "1700", "1710/.."), link("Brandt", "1710", "1730")}) ==
          "possible-gap 0 1; possible-overlap 0 1");
}

TEST_CASE("Overlaps, certain and possible") {
    CHECK(codes({link("Aalders", "1700", "1720"), link("Brandt", "1710", "1730")}) == "definite-overlap 0 1");
    CHECK(codes({link("Aalders", "1700", "171X"), link("Brandt", "1715", "1730")}) ==
          "possible-gap 0 1; possible-overlap 0 1");
    CHECK(codes({link("Aalders", "1700", "1720"), link("Kunsthandel", "1710", "1711", yes, LinkKind::agent),
                 link("Brandt", "1720", "1730")}) == "possible-overlap 0 2");
    CHECK(
        codes({link("Aalders", "1700", "1720", yes), link("Depot", "1705", "1706", yes, LinkKind::custodian)}).empty());
    OwnershipChain joint{link("Aalders", "1700", "1720", yes), link("Brandt", "1710", "1720", yes)};
    joint[1].joint_with_previous = true;
    CHECK(codes(joint).empty());
}

TEST_CASE("An agent's or a saleroom's day inside an ownership makes no gap") {
    CHECK(codes({link("Aalders", "1700", "1720", yes), link("Makler", "1710", "", yes, LinkKind::agent),
                 link("Brandt", "1720-12-31", "1730")})
              .find("gap") == std::string::npos);
    // The sale ended the first ownership; nobody knows who bought.
    CHECK(codes({link("Aalders", "1700", "1710", yes),
                 link("Veilinghuis", "1710", "", DirectTransfer::no, LinkKind::saleroom),
                 link("Brandt", "1720", "1730")}) == "definite-gap 1 2");
    // A first owner without an end does not hide a gap further on.
    CHECK(codes({link("Aalders", "1700", "", yes), link("Brandt", "1710", "1720"), link("Claes", "1750", "1760")}) ==
          "definite-gap 1 2");
}

TEST_CASE("Impossible orders, between two and within one") {
    CHECK(codes({link("Aalders", "1800", "1810"), link("Brandt", "1700", "1710")}) == "impossible-order 0 1");
    CHECK(codes({link("Aalders", "1800", "1790")}) == "impossible-order 0");
    CHECK(codes({link("Aalders", "1800-06", "1800")}).empty());
}

TEST_CASE("Dates outside a life, unless an estate acts") {
    ChainLink heir = link("Aalders", "1700", "1725");
    heir.born = parse_edtf("1690").value();
    heir.died = parse_edtf("1720").value();
    CHECK(codes({heir}) == "outside-life 0");
    heir.estate = true;
    CHECK(codes({heir}).empty());
    heir.born = parse_edtf("1701").value();
    CHECK(codes({heir}) == "outside-life 0");
    heir.born = parse_edtf("170X").value();  // may have been born in 1700
    CHECK(codes({heir}).empty());
}

TEST_CASE("Exposure between 30 January 1933 and 8 May 1945") {
    CHECK(codes({link("Aalders", "1900", "1933-01-29")}).empty());
    CHECK(codes({link("Aalders", "1900", "1933-01-30")}) == "exposure-1933-1945 0");
    CHECK(codes({link("Aalders", "1945-05-08", "1950")}) == "exposure-1933-1945 0");
    CHECK(codes({link("Aalders", "1945-05-09", "1950")}).empty());
    // Nobody knows when Aalders parted with it, but Brandt had it before the period began.
    CHECK(codes({link("Aalders", "1880", "", yes), link("Brandt", "1920", "1930")}).empty());
    // A last known owner without an end stays in question.
    CHECK(codes({link("Aalders", "1920", "")}) == "exposure-1933-1945 0");
    // He died before the period, and no estate is known to have held it.
    ChainLink dead = link("Aalders", "1880", "");
    dead.died = parse_edtf("1901").value();
    CHECK(codes({dead}).empty());
    CHECK(findings({link("Aalders", "1930", "1950")})[0].text.find("had it") != std::string::npos);
    CHECK(findings({link("Aalders", "1930", "1934/..")})[0].text.find("had it") != std::string::npos);
    CHECK(findings({link("Aalders", "", "1950")})[0].text.find("may have had it") != std::string::npos);
    CHECK(findings({link("a private collector", "", "1950")})[0].text.starts_with("A private collector may have had"));
}

TEST_CASE("A gap in those years is flagged even where it is only possible") {
    CHECK(codes({link("Aalders", "1900", "1932"), link("Brandt", "1950", "")}) ==
          "definite-gap 0 1; exposure-1933-1945 0 1");
    CHECK(codes({link("Aalders", "1900", "1932"), link("Brandt", "193X", "1931/..", yes)}) ==
          "possible-gap 0 1; exposure-1933-1945 0 1; possible-overlap 0 1; exposure-1933-1945 1");
    CHECK(codes({link("Aalders", "1800", "1810"), link("Brandt", "1820", "1830")}) == "definite-gap 0 1");
}

TEST_CASE("An empty chain and a chain without any date give no false alarm of order") {
    CHECK(codes({}).empty());
    CHECK(codes({link("Aalders", "", "", yes), link("Brandt", "", "")}) ==
          "exposure-1933-1945 0; exposure-1933-1945 1");
}
