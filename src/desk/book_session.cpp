#include "book_session.hpp"

namespace tedge::desk {

namespace {

constexpr int watch_interval_ms = 1000;

}  // namespace

Error nobody_works_error() {
    return {std::string(nobody_works), "Nobody is named who works.", "Say who works: every entry carries a name.", {}};
}

Expected<std::unique_ptr<BookSession>> BookSession::open(const Opened& how) {
    auto book = casebook::Casebook::open(how.folder, {how.clock, how.ids});
    if (!book) return pass_on(book);
    if (how.author.empty() && !book->read_only()) return std::unexpected(nobody_works_error());
    const auto author = book->person_named(how.author);
    if (!author && !book->read_only()) return pass_on(author);
    return std::unique_ptr<BookSession>(new BookSession(how, *std::move(book), author.value_or(Uuid{})));
}

BookSession::BookSession(Opened how, casebook::Casebook book, Uuid author)
    : how_(std::move(how)), book_(std::move(book)), author_(author) {
    data_version_ = book_.data_version().value_or(0);
    connect(&watch_, &QTimer::timeout, this, &BookSession::look_for_other_writers);
    watch_.start(watch_interval_ms);
}

void BookSession::look_for_other_writers() {
    const std::int64_t now = book_.data_version().value_or(data_version_);
    if (now == data_version_) return;
    data_version_ = now;
    emit changed();
}

void BookSession::did(usecases::Done done, const QString& what) {
    did(std::vector<usecases::Done>{std::move(done)}, what);
}

void BookSession::did(std::vector<usecases::Done> done, const QString& what) {
    if (done.empty()) return;
    Step step{{}, what};
    for (usecases::Done& each : done) step.inverses.push_back(std::move(each.inverse));
    undo_.push_back(std::move(step));
    redo_.clear();
    tell_changed(undo_.back().inverses.back().record);
}

void BookSession::tell_changed(const Uuid& record) {
    const auto written = book_.record(record);
    // People belong to no case: a name may stand on any card.
    if (written && !written->case_id.is_nil()) changed_case_ = written->case_id;
    emit changed();
    changed_case_.reset();
}

QString BookSession::undo_text() const {
    return undo_.empty() ? QString() : undo_.back().what;
}

void BookSession::set_client_looks(bool looks) {
    if (client_looks_ == looks) return;
    client_looks_ = looks;
    emit client_looks_changed(looks);
}

void BookSession::carry_out(std::vector<Step>& from, std::vector<Step>& to) {
    if (from.empty()) return;
    const Step step = from.back();
    // What was done last is taken back first, all of it or nothing.
    const auto taken_back = book_.in_one_act([&]() -> Expected<std::vector<casebook::Edit>> {
        std::vector<casebook::Edit> inverses;
        for (auto each = step.inverses.rbegin(); each != step.inverses.rend(); ++each) {
            auto done = usecases::take_back(acting(), *each);
            if (!done) return pass_on(done);
            inverses.push_back(std::move(done->inverse));
        }
        return inverses;
    });
    if (!taken_back) {
        emit refused(taken_back.error());
        return;
    }
    from.pop_back();
    to.push_back({*taken_back, step.what});
    tell_changed(to.back().inverses.back().record);
}

void BookSession::undo() {
    carry_out(undo_, redo_);
}
void BookSession::redo() {
    carry_out(redo_, undo_);
}

}  // namespace tedge::desk
