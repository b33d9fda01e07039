#include "rack/rack_model.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "tedge/casebook/gates.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::Act;
using usecases::Stage;

bool is_closed(const casebook::CaseSnapshot& snapshot, std::string_view kind, const casebook::FieldValues& values) {
    Act act;
    act.kind = kind;
    act.fields = casebook::Body(values.set_values());
    return std::ranges::any_of(ask_gates(snapshot, act), [](const casebook::GateAnswer& answer) {
        return answer.state() == casebook::GateState::closed;
    });
}

std::size_t index_of(Stage stage) {
    return static_cast<std::size_t>(stage);
}

// What cards and closed_stages look at, and nothing else: the rack holds every picture of the house.
casebook::KindsWanted kinds_on_rack() {
    casebook::KindsWanted kinds = usecases::kinds_on_cards();
    for (const std::string_view kind : casebook::kinds_asked_by_gates()) kinds.all_of.emplace_back(kind);
    return kinds;
}

// What falls due first stands first; pictures without a date by how lately they came.
bool before(const RackCard& a, const RackCard& b) {
    const auto key = [](const RackCard& c) {
        return std::pair(c.card.next_deadline_on.empty() ? std::string("9999") : c.card.next_deadline_on,
                         to_text(c.card.id));
    };
    return key(a) < key(b);
}

}  // namespace

QString contested_words(std::size_t records) {
    return records == 1 ? QObject::tr("1 record told differently")
                        : QObject::tr("%1 records told differently").arg(records);
}

QStringList whereabouts(const usecases::CaseCard& card, bool client_looks) {
    if (card.place.empty() && card.holder.empty()) return {QObject::tr("whereabouts not recorded")};
    QStringList parts;
    if (!card.place.empty()) parts << shown(card.place);
    if (client_looks) return parts;
    if (!card.holder.empty()) parts << QObject::tr("with %1").arg(shown(card.holder));
    parts << (card.insured_by.empty() ? QObject::tr("no insurer recorded")
                                      : QObject::tr("insured by %1").arg(shown(card.insured_by)));
    return parts;
}

ClosedStages closed_stages(const casebook::CaseSnapshot& snapshot) {
    ClosedStages closed{};
    const usecases::StageMarks marks = usecases::stage_marks(snapshot);
    // A gate counts as standing closed once the work has come near it: nobody is warned of lining at the lot.
    if (!marks.done[index_of(Stage::photographs)]) return closed;
    closed[index_of(Stage::trials)] =
        !marks.done[index_of(Stage::trials)] && is_closed(snapshot, "trial", casebook::FieldValues());
    closed[index_of(Stage::structure)] =
        !marks.done[index_of(Stage::structure)] &&
        is_closed(snapshot, "structure_step", casebook::FieldValues().text("act", "lining"));
    return closed;
}

RackModel::RackModel(BookSession& session, SmallPictures& pictures, QObject* parent)
    : QAbstractListModel(parent), session_(session), pictures_(pictures) {
    connect(&session_, &BookSession::changed, this, &RackModel::look_again);
    connect(&session_, &BookSession::client_looks_changed, this, [this] { emit layoutChanged(); });
    connect(&pictures_, &SmallPictures::arrived, this, [this] { emit layoutChanged(); });
    read_again();
}

void RackModel::read_again() {
    const auto cases = session_.book().snapshots(kinds_on_rack());
    if (!cases) return;
    all_.clear();
    const auto contested = contested_by_case().value_or(std::map<Uuid, std::size_t>());
    for (const casebook::CaseSnapshot& snapshot : *cases) {
        const auto told = contested.find(snapshot.picture.id);
        all_.push_back(
            {usecases::card_of(snapshot), closed_stages(snapshot), told != contested.end() ? told->second : 0});
    }
    std::ranges::sort(all_, before);
    narrow();
}

// Records, not fields: each is settled as a whole.
Expected<std::map<Uuid, std::size_t>> RackModel::contested_by_case() {
    const auto conflicts = session_.book().conflicts();
    if (!conflicts) return pass_on(conflicts);
    std::set<std::pair<Uuid, Uuid>> records;
    for (const casebook::Conflict& conflict : *conflicts) records.emplace(conflict.case_id, conflict.record);
    std::map<Uuid, std::size_t> count;
    for (const auto& [case_id, record] : records) ++count[case_id];
    return count;
}

void RackModel::look_again() {
    if (const std::optional<Uuid> changed = session_.changed_case()) return read_case(*changed);
    read_again();
}

// One picture changed: its card alone is read again, the others stay as they were read.
void RackModel::read_case(const Uuid& case_id) {
    const auto of_case = [](const RackCard& c) { return c.card.id; };
    const auto old = std::ranges::find(all_, case_id, of_case);
    const auto snapshot = session_.book().snapshot(case_id);
    if (old == all_.end() || !snapshot) return read_again();
    const auto contested = contested_by_case().value_or(std::map<Uuid, std::size_t>());
    const auto told = contested.find(case_id);
    const RackCard now{usecases::card_of(*snapshot), closed_stages(*snapshot),
                       told != contested.end() ? told->second : 0};
    *old = now;
    const bool in_order = std::ranges::is_sorted(all_, before);
    if (!in_order) std::ranges::sort(all_, before);
    const auto at = std::ranges::find(shown_, case_id, of_case);
    if (!in_order || at == shown_.end() || !words_.trimmed().isEmpty()) return narrow();
    *at = now;
    const QModelIndex cell = index(static_cast<int>(at - shown_.begin()));
    emit dataChanged(cell, cell);
}

void RackModel::search(const QString& words) {
    words_ = words;
    narrow();
}

void RackModel::narrow() {
    beginResetModel();
    shown_ = all_;
    if (!words_.trimmed().isEmpty()) {
        std::set<Uuid> found;
        const auto hits = session_.book().search(plain(words_), 1000);
        if (hits) {
            for (const casebook::SearchHit& hit : *hits) found.insert(hit.case_id);
        }
        std::erase_if(shown_, [&](const RackCard& card) { return !found.contains(card.card.id); });
    }
    endResetModel();
}

int RackModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(shown_.size());
}

QVariant RackModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid()) return {};
    const RackCard& at = card(index.row());
    if (role == Qt::DisplayRole) return shown(at.card.title);
    if (role == Qt::AccessibleTextRole)
        return shown(at.card.title) + QStringLiteral(": ") + tacks_in_words(at.card.stages, closed_shown(index.row())) +
               (at.contested > 0 && !client_looks() ? QStringLiteral(", ") + contested_words(at.contested) : QString());
    if (role == Qt::ToolTipRole) return tip(index.row());
    if (role == id_role) return shown(to_text(at.card.id));
    return {};
}

QImage RackModel::small_picture(int row) const {
    const auto& picture = card(row).card.picture;
    return picture ? pictures_.of(*picture) : QImage();
}

ClosedStages RackModel::closed_shown(int row) const {
    return client_looks() ? ClosedStages{} : card(row).closed;
}

std::string RackModel::today() const {
    return to_text(session_.how().clock->now()).substr(0, 10);
}

bool RackModel::is_overdue(int row) const {
    const std::string& on = card(row).card.next_deadline_on;
    return !on.empty() && on < today();
}

QString RackModel::deadline_shown(int row) const {
    const usecases::CaseCard& of = card(row).card;
    if (of.next_deadline_on.empty() || client_looks()) return {};
    const QString day = short_day_text(of.next_deadline_on, today());
    return tr("%1: %2").arg(is_overdue(row) ? tr("△ overdue %1").arg(day) : day, shown(of.next_deadline_what));
}

// All that a card may have no room for.
QString RackModel::tip(int row) const {
    const RackCard& at = card(row);
    QStringList lines{shown(at.card.title), whereabouts(at.card, client_looks()).join(QStringLiteral(" · "))};
    if (const QString due = deadline_shown(row); !due.isEmpty()) lines << due;
    return lines.join(u'\n');
}

int RackModel::due_within_a_week() const {
    const std::string limit = to_text(session_.how().clock->now() + std::chrono::days(7)).substr(0, 10);
    return static_cast<int>(std::ranges::count_if(
        all_, [&](const RackCard& c) { return !c.card.next_deadline_on.empty() && c.card.next_deadline_on <= limit; }));
}

int RackModel::gates_closed() const {
    int count = 0;
    for (const RackCard& c : all_) count += static_cast<int>(std::ranges::count(c.closed, true));
    return count;
}

}  // namespace tedge::desk
