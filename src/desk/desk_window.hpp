// The window: the rack on one side, the case on the other, keys for everything.
#pragma once

#include <QMainWindow>
#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

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
    [[nodiscard]] Drafts& drafts() { return drafts_; }
    [[nodiscard]] Rack& rack() { return *rack_; }
    void open_case(const Uuid& case_id);

    // Files dropped or handed over: taken in for the case on the desk.
    void take_in(const std::vector<std::filesystem::path>& files);
    [[nodiscard]] SmallPictures& pictures() { return pictures_; }

protected:
    void resizeEvent(QResizeEvent* event) override;
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;

private:
    void add_keys();
    void new_case();
    void show_people();
    void show_house();
    void show_keys();
    void show_rack(bool is_shown);
    std::unique_ptr<BookSession> session_;
    SmallPictures pictures_;
    Drafts drafts_;
    Rack* rack_;
    CaseView* case_;
    QStackedWidget* right_;
    std::optional<bool> rack_wanted_;  // as somebody asked for; else there is room for it or not
};

}  // namespace tedge::desk
