// What is half typed: kept with what its author had before him, so that it is told truly when it is saved tomorrow.
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "forms/entries/entry.hpp"
#include "forms/record_form.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

// No field's name begins so.
const QString frame_key = QStringLiteral("@face_frame");
const QString region_key = QStringLiteral("@region");

QString ids_text(const std::vector<Uuid>& ids) {
    QStringList texts;
    for (const Uuid& id : ids) texts << shown(to_text(id));
    return texts.join(QLatin1Char(' '));
}

std::optional<DrawnPlace> place_in(const QMap<QString, QString>& draft) {
    if (!draft.contains(region_key)) return std::nullopt;
    const auto frame = parse_uuid(plain(draft.value(frame_key)));
    const auto region = Region::from_geojson(plain(draft.value(region_key)));
    return frame && region ? std::optional(DrawnPlace{*frame, *region}) : std::nullopt;
}

}  // namespace

QString RecordForm::form_name() const {
    return record_ ? shown(to_text(record_->id)) : form_name(case_id_, *kind_);
}

void RecordForm::restore_draft() {
    const QMap<QString, QString> draft = drafts_.of_form(form_name());
    if (draft.isEmpty()) return;
    for (FieldEditor* each : editors_) {
        const auto typed = draft.find(shown(each->field().name));
        if (typed != draft.end()) each->set_typed(*typed);
        if (typed != draft.end() && more_ != nullptr && !each->isVisibleTo(body_)) more_->setChecked(true);
    }
    if (draft.contains(seen_key)) seen_ = ids_in(draft.value(seen_key));
    if (const auto place = place_in(draft); place_ != nullptr && place) place_->set_place(*place);
    restored_ = new QWidget(body_);
    auto* row = new QHBoxLayout(restored_);
    row->setContentsMargins(0, 0, 0, 6);
    auto* said = new QLabel(tr("Half typed, as you left it."), restored_);
    said->setProperty("role", "faded");
    said->setWordWrap(true);
    auto* afresh = new QPushButton(tr("Start afresh"), restored_);
    afresh->setMinimumHeight(target_px);
    connect(afresh, &QPushButton::clicked, this, [this] {
        drafts_.drop(form_name());
        if (record_) seen_ = record_->newest_changes;
        emit place_changed();
        // Not from inside the button that goes with it.
        QMetaObject::invokeMethod(this, &RecordForm::rebuild, Qt::QueuedConnection);
    });
    row->addWidget(said, 1);
    row->addWidget(afresh);
    fields_->insertWidget(1, restored_);
}

void RecordForm::keep_draft() {
    if (kind_ == nullptr || read_only_) return;
    QMap<QString, QString> typed;
    for (const FieldEditor* each : editors_) {
        if (each->touched()) typed[shown(each->field().name)] = each->typed();
    }
    if (place_ != nullptr && place_->place()) {
        typed[frame_key] = shown(to_text(place_->place()->face_frame));
        typed[region_key] = shown(place_->place()->region.to_geojson());
    }
    if (record_ && !typed.isEmpty()) typed[seen_key] = ids_text(seen_);
    drafts_.keep(form_name(), typed);
}

void RecordForm::flush_draft() {
    if (!draft_timer_.isActive()) return;
    draft_timer_.stop();
    keep_draft();
}

void RecordForm::later() {
    flush_draft();
    emit closed();
}

void RecordForm::give_up() {
    draft_timer_.stop();
    if (kind_ != nullptr) drafts_.drop(form_name());
    emit place_changed();
    emit closed();
}

std::vector<DrawnPlace> places_half_typed(const Drafts& drafts, const casebook::CaseSnapshot& snapshot) {
    std::vector<DrawnPlace> places;
    const auto add = [&](const QString& form) {
        if (const auto place = place_in(drafts.of_form(form))) places.push_back(*place);
    };
    for (const casebook::Kind* kind : casebook::all_kinds()) {
        if (kind->field("region") != nullptr) add(RecordForm::form_name(snapshot.picture.id, *kind));
    }
    for (const casebook::Record& record : snapshot.records) add(shown(to_text(record.id)));
    return places;
}

}  // namespace tedge::desk
