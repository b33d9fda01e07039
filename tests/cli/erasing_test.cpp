// `record erase` says what went, what stays and what is still to be done.
#include <algorithm>

#include "../faults/asked_program.hpp"

using namespace tedge;

TEST_CASE("Erasing a case says that the case stays, and names the records in it that still speak of persons") {
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    const std::string here = quoted(book.folder);
    const std::string erase = "record erase " + here + " ";
    const std::string reason = " --reason 'asked by the person' --by 'Ada Wren'";
    const Asked paper = ask("record add " + here + " " + book.case_id +
                            " document '{\"title\":\"Letter of Zebulon Quarrelhome\"}' --by 'Ada Wren' --json");
    CAPTURE(paper.out);
    REQUIRE(paper.code() == 0);
    const std::string letter = paper.fields()["id"].get<std::string>();

    const Asked erased = ask(erase + book.case_id + reason + " --json");
    CAPTURE(erased.out, erased.err);
    CHECK(erased.code() == 0);
    CHECK(erased.fields()["erased"] == false);
    CHECK(erased.fields()["fields"].empty());
    const auto stays = erased.fields()["stays"].get<std::vector<std::string>>();
    CHECK(std::ranges::find(stays, "title") != stays.end());
    CHECK(erased.fields()["others"] == nlohmann::json::array({letter}));
    const std::string told = ask(erase + book.case_id + reason).out;
    for (const std::string& said : {std::string("Nothing of this record was about a person."), std::string("Title"),
                                    letter, std::string("erase each of them as well")}) {
        CAPTURE(said, told);
        CHECK(told.find(said) != std::string::npos);
    }

    const Asked letter_erased = ask(erase + letter + reason + " --json");
    CHECK(letter_erased.fields()["erased"] == true);
    CHECK(letter_erased.fields()["fields"] == nlohmann::json::array({"title"}));
    CHECK(ask(erase + book.case_id + reason + " --json").fields()["others"].empty());

    require_refused("record change " + here + " " + letter + " '{\"title\":\"Letter\"}' --reason again --by 'Ada Wren'",
                    "casebook.erased-record");
}
