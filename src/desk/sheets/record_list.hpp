// The records of a sheet in one list, under the names of their kinds.
#pragma once

#include <QListWidget>
#include <optional>
#include <string_view>
#include <vector>

#include "forms/drafts.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::desk {

class RecordList : public QListWidget {
    Q_OBJECT

public:
    explicit RecordList(QWidget* parent = nullptr);
    // Most urgent or newest first within a kind. The record that was chosen stays chosen.
    void show_records(const std::vector<std::string_view>& kinds, const casebook::CaseSnapshot& snapshot,
                      const Drafts& drafts, bool client_looks);
    [[nodiscard]] std::optional<Uuid> chosen() const { return id_of(currentItem()); }

signals:
    void opened(const tedge::Uuid& record);  // by double click or Enter
    void moved_to(const tedge::Uuid& record);

protected:
    void changeEvent(QEvent* event) override;

private:
    [[nodiscard]] static std::optional<Uuid> id_of(const QListWidgetItem* item);
    void add_heading(const casebook::Kind& kind, std::size_t count);
    void add_record(const casebook::Record& record, const casebook::CaseSnapshot& snapshot, const Drafts& drafts,
                    const QString& label, bool client_looks);
};

}  // namespace tedge::desk
