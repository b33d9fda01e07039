// A comparison as a picture of its own: what is seen, with scale and caption, written to a file or kept in the case.
#pragma once

#include <QImage>
#include <QObject>
#include <filesystem>
#include <optional>

#include "compare/compare_canvas.hpp"
#include "long_work.hpp"

namespace tedge::desk {

struct Caption {
    QString title;               // of the picture
    std::vector<QString> lines;  // one for each photograph: what it is, when, how well it lies, whose rights
};

// Of the photographs of one comparison, as anybody may read it.
[[nodiscard]] Caption caption_of(const casebook::CaseSnapshot& snapshot, const Comparison& comparison,
                                 const casebook::Record& frame);

// The picture with its caption below, on white paper; `enlarged` as the picture was painted.
[[nodiscard]] QImage with_caption(const QImage& picture, const Caption& caption, double enlarged);

class Keeping : public QObject {
    Q_OBJECT

public:
    explicit Keeping(BookSession& session, CompareCanvas& canvas, QObject* parent = nullptr);

    struct Wanted {
        Uuid case_id;
        std::vector<Uuid> photographs;
        QString question;
        Caption caption;
        std::optional<std::filesystem::path> file;  // a PNG there; left out: kept in the case
    };
    // Paints as soon as every tile is there, then writes off the window's thread.
    void begin(Wanted wanted);
    [[nodiscard]] bool running() const { return waiting_.has_value() || work_.running(); }

signals:
    void kept(const QString& text, const tedge::usecases::Done* done);
    void refused(const tedge::Error& error);

private:
    void paint_when_complete();
    void write(const BookSession::Opened& how, const Wanted& wanted, const QImage& image);

    BookSession& session_;
    CompareCanvas& canvas_;
    std::optional<Wanted> waiting_;
    LongWork work_;
};

}  // namespace tedge::desk
