// The pages of a dossier where the easel stands otherwise: scrolled, enlarged, kept and printed from there.
#pragma once

#include <QWidget>

class QLabel;
class QPdfDocument;
class QPdfView;
class QToolBar;

namespace tedge::desk {

class DossierPages : public QWidget {
    Q_OBJECT

public:
    explicit DossierPages(QWidget* parent = nullptr);

    void show_pdf(const QString& file);
    void close_pdf();
    [[nodiscard]] bool has_pages() const { return page_count() > 0; }
    [[nodiscard]] int page_count() const;
    [[nodiscard]] QString where() const;  // "Page 3 of 12"
    [[nodiscard]] double zoom() const;
    void zoom_by(double factor);
    void fit_width();
    void show_page(int page);  // from 0

signals:
    void save_pdf_wanted();
    void save_bag_wanted();
    void print_wanted();
    void closed();

protected:
    void keyPressEvent(QKeyEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void add_tool(const QString& text, const QString& tip, std::function<void()> act);
    void show_where();
    QPdfDocument* document_;
    QToolBar* tools_;
    QLabel* where_;
    QPdfView* view_;
};

}  // namespace tedge::desk
