#include "book_session.hpp"

namespace tedge::desk {

namespace {

constexpr int watch_interval_ms = 1000;

}  // namespace

Expected<std::unique_ptr<BookSession>> BookSession::open(const Opened& how) {
    auto book = casebook::Casebook::open(how.folder, {how.clock, how.ids});
    if (!book) return pass_on(book);
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
    undo_.push_back({std::move(done.inverse), what});
    redo_.clear();
    tell_changed(undo_.back().inverse.record);
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
    auto done = usecases::take_back(acting(), step.inverse);
    if (!done) {
        emit refused(done.error());
        return;
    }
    from.pop_back();
    to.push_back({std::move(done->inverse), step.what});
    tell_changed(to.back().inverse.record);
}

void BookSession::undo() {
    carry_out(undo_, redo_);
}
void BookSession::redo() {
    carry_out(redo_, undo_);
}

}  // namespace tedge::desk
