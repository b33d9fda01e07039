// What was half typed into a record goes with its erasure.
#include <QTest>

#include "desk_window.hpp"
#include "form_fixture.hpp"
#include "must.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

struct TypedOn : FormBook {
    Uuid paper = add("document", FieldValues().text("title", "Letter about the sale"));
    Uuid other = add("document", FieldValues().text("title", "Bill of the framer"));
    std::filesystem::path file = folder / "book/half-typed.json";

    TypedOn() {
        type_into(paper, "Letter of Zebulon Quarrelhome");
        type_into(other, "Bill of the gilder");
    }

    void type_into(const Uuid& record, const char* title) {
        Drafts drafts(file);
        RecordForm form(*session, drafts);
        form.edit(must(session->book().record(record)));
        form.editor("title")->set_typed(QString::fromUtf8(title));
        form.later();
    }

    std::string kept() const { return must(read_file(file)); }
    bool keeps(std::string_view words) const { return kept().find(words) != std::string::npos; }

    // As the command line does it, or another machine.
    void erase_elsewhere(const Uuid& record) {
        auto book = must(casebook::Casebook::open(folder / "book", {&clock, &ids}));
        must(book.erase(must(book.person_named("Ada Wren")), record, "asked by the person"));
    }
};

}  // namespace

TEST_CASE("At opening, what was half typed into a record that was erased meanwhile goes; all else stays") {
    TypedOn b;
    REQUIRE(b.keeps("Quarrelhome"));
    REQUIRE(b.keeps("gilder"));
    b.erase_elsewhere(b.paper);
    const DeskWindow window(std::move(b.session));
    CHECK_FALSE(b.keeps("Quarrelhome"));
    CHECK(b.keeps("gilder"));
}

TEST_CASE("While the desk is open, what was half typed goes as soon as the erasure is seen") {
    TypedOn b;
    const DeskWindow window(std::move(b.session));
    CHECK(b.keeps("Quarrelhome"));
    b.erase_elsewhere(b.paper);
    QTest::qWait(1500);  // the desk looks for other writers each second
    CHECK_FALSE(b.keeps("Quarrelhome"));
    CHECK(b.keeps("gilder"));
}

TEST_CASE("What is typed with the erasure in sight is kept like any other half-typed form") {
    TypedOn b;
    b.erase_elsewhere(b.paper);
    Drafts(b.file).drop_erased(b.session->book());
    b.type_into(b.paper, "Letter, its writer not to be named");
    Drafts(b.file).drop_erased(b.session->book());
    CHECK_FALSE(b.keeps("Quarrelhome"));
    CHECK(b.keeps("not to be named"));
}
