// The pictures of the rack as a list: read from the casebook, narrowed by what is searched for.
#pragma once

#include <QAbstractListModel>
#include <QImage>
#include <map>
#include <vector>

#include "book_session.hpp"
#include "photographs/small_pictures.hpp"
#include "tacks.hpp"

namespace tedge::desk {

struct RackCard {
    usecases::CaseCard card;
    ClosedStages closed{};
    std::size_t contested = 0;  // records that two people wrote differently
};

class RackModel : public QAbstractListModel {
    Q_OBJECT

public:
    enum Role { card_role = Qt::UserRole, id_role };
    RackModel(BookSession& session, SmallPictures& pictures, QObject* parent = nullptr);

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] const RackCard& card(int row) const { return shown_[static_cast<std::size_t>(row)]; }
    [[nodiscard]] ClosedStages closed_shown(int row) const;  // none while a client looks
    [[nodiscard]] QImage small_picture(int row) const;
    // "25 Dec: ask the county library …", "overdue 3 Mar: …"; "" where nothing is to be done or a client looks.
    [[nodiscard]] QString deadline_shown(int row) const;
    [[nodiscard]] bool is_overdue(int row) const;
    [[nodiscard]] bool client_looks() const { return session_.client_looks(); }
    [[nodiscard]] int due_within_a_week() const;
    [[nodiscard]] int gates_closed() const;

public slots:
    void read_again();
    void search(const QString& words);

private:
    [[nodiscard]] std::string today() const;
    [[nodiscard]] QString tip(int row) const;
    void look_again();
    void read_case(const Uuid& case_id);
    [[nodiscard]] Expected<std::map<Uuid, std::size_t>> contested_by_case();
    void narrow();
    BookSession& session_;
    SmallPictures& pictures_;
    std::vector<RackCard> all_;
    std::vector<RackCard> shown_;
    QString words_;
};

// Where it is, who holds it, who insures it; names and insurers are nobody's business while a client looks.
[[nodiscard]] QStringList whereabouts(const usecases::CaseCard& card, bool client_looks);

// "2 records told differently": what two people wrote without knowing of each other and nobody settled.
[[nodiscard]] QString contested_words(std::size_t records);

// Which stages a closed gate bars for a case as it stands: facing, trials, structure, dossier.
[[nodiscard]] ClosedStages closed_stages(const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::desk
