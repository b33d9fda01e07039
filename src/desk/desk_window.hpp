// The window: the rack on one side, the case on the other, keys for everything.
#pragma once

#include <QMainWindow>
#include <memory>

#include "book_session.hpp"
#include "case_view.hpp"
#include "forms/drafts.hpp"
#include "photographs/small_pictures.hpp"
#include "rack/rack.hpp"

class QStackedWidget;

namespace tedge::desk {

class DeskWindow : public QMainWindow {
    Q_OBJECT

public:
    explicit DeskWindow(std::unique_ptr<BookSession> session);

    [[nodiscard]] BookSession& session() { return *session_; }
    [[nodiscard]] CaseView& case_view() { return *case_; }
    [[nodiscard]] Rack& rack() { return *rack_; }
    void open_case(const Uuid& case_id);

protected:
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;

private:
    void add_keys();
    void new_case();
    void show_keys();
    std::unique_ptr<BookSession> session_;
    SmallPictures pictures_;
    Drafts drafts_;
    Rack* rack_;
    CaseView* case_;
    QStackedWidget* right_;
};

}  // namespace tedge::desk
