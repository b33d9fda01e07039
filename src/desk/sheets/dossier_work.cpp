#include "sheets/dossier_work.hpp"

#include <QPainter>
#include <QPdfDocument>
#include <QPrinter>
#include <QTemporaryDir>
#include <algorithm>

#include "tedge/base/files.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

namespace fs = std::filesystem;

// More than this no reader sees on paper, and a page of it is held in memory at once.
constexpr double finest_dpi = 300;

QString shown_path(const fs::path& path) {
    return shown(to_utf8(path));
}

struct Pages {
    int first = 0;
    int last = 0;
};

Pages pages_wanted(const QPrinter& printer, int count) {
    if (printer.printRange() != QPrinter::PageRange || printer.fromPage() < 1) return {0, count - 1};
    return {std::min(printer.fromPage(), count) - 1, std::min(std::max(printer.toPage(), 1), count) - 1};
}

// In the middle of what the printer can reach, its shape kept.
void paint_page(QPainter& painter, const QPrinter& printer, QPdfDocument& document, int page) {
    const QSizeF points = document.pagePointSize(page);
    const QSizeF room = printer.pageRect(QPrinter::DevicePixel).size();
    const QSizeF fitted = points.scaled(room, Qt::KeepAspectRatio);
    const double dpi = std::min<double>(
        finest_dpi, printer.resolution() * fitted.width() / (points.width() * printer.resolution() / points_per_inch));
    const QImage image = document.render(page, (points * (dpi / points_per_inch)).toSize());
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    const QPointF at((room.width() - fitted.width()) / 2, (room.height() - fitted.height()) / 2);
    painter.fillRect(QRectF(at, fitted), Qt::white);
    painter.drawImage(QRectF(at, fitted), image);
}

Expected<void> copy_tree(const fs::path& from, const fs::path& to, const Progress& progress) {
    std::vector<fs::path> files;
    std::error_code fault;
    for (const auto& entry : fs::recursive_directory_iterator(from, fault)) {
        if (entry.is_regular_file()) files.push_back(fs::relative(entry.path(), from));
    }
    for (std::size_t i = 0; i < files.size(); ++i) {
        if (progress.stopped()) return cancelled();
        progress.at(static_cast<double>(i) / static_cast<double>(files.size()), "copying the bag");
        fs::create_directories((to / files[i]).parent_path(), fault);
        fs::copy_file(from / files[i], to / files[i], fault);
        if (fault) {
            return fail("files.unwritable", "The bag cannot be written there: " + fault.message() + ".",
                        "Choose another folder or make room.");
        }
    }
    return {};
}

}  // namespace

Expected<std::vector<InTheWay>> missing_before(const BookSession::Opened& how, const Uuid& case_id,
                                               casebook::Reader reader) {
    auto opened = open_for_worker(how);
    if (!opened) return pass_on(opened);
    const auto answers = usecases::gates_before_dossier({opened->book, opened->author, *how.clock}, case_id, reader);
    if (!answers) return pass_on(answers);
    std::vector<InTheWay> missing;
    for (const casebook::GateAnswer& answer : *answers) {
        for (const casebook::Requirement& requirement : answer.missing) {
            if (!requirement.overridden_by) missing.push_back({answer.gate, requirement});
        }
    }
    std::ranges::stable_sort(missing, std::greater{}, [](const InTheWay& each) { return each.requirement.closes; });
    return missing;
}

Expected<MadeDossier> make_dossier(const BookSession::Opened& how, const Uuid& case_id, casebook::Reader reader,
                                   const Progress& progress, const std::vector<usecases::Override>& overrides) {
    auto opened = open_for_worker(how);
    if (!opened) return pass_on(opened);
    MadeDossier made;
    made.folder = std::make_shared<QTemporaryDir>();
    made.reader = reader;
    if (!made.folder->isValid()) {
        return fail("files.unwritable", "There is no room for the pages in the folder for temporary files.",
                    "Make room there and try again.");
    }
    auto written = usecases::write_case_dossier({opened->book, opened->author, *how.clock}, case_id, reader,
                                                path_from_utf8(plain(made.folder->path())), progress, overrides);
    if (!written) return pass_on(written);
    made.files = *std::move(written);
    return made;
}

Expected<void> keep_pdf(const MadeDossier& made, const fs::path& file) {
    const auto bytes = read_file(made.files.pdf);
    if (!bytes) return pass_on(bytes);
    return write_file_durably(file, *bytes);
}

Expected<void> keep_bag(const MadeDossier& made, const fs::path& folder, const Progress& progress) {
    std::error_code fault;
    if (fs::exists(folder, fault)) {
        return fail("dossier.exists", "Something of the name " + to_utf8(folder.filename()) + " lies there already.",
                    "Choose another folder or take it away first.");
    }
    const fs::path half = folder.parent_path() / ("." + to_utf8(folder.filename()) + ".part");
    fs::remove_all(half, fault);
    auto copied = copy_tree(made.files.bag, half, progress);
    if (copied) {
        fs::rename(half, folder, fault);
        if (fault) copied = fail("files.unwritable", "The bag cannot be put in place.", "Choose another folder.");
    }
    if (copied) return sync_folder(folder.parent_path());
    fs::remove_all(half, fault);
    return copied;
}

Expected<int> print_pages(const fs::path& pdf, QPrinter& printer, const Progress& progress) {
    QPdfDocument document;
    if (document.load(shown_path(pdf)) != QPdfDocument::Error::None || document.pageCount() == 0)
        return fail("print.no-pages", "The pages cannot be read any more.", "Make them again.");
    const Pages pages = pages_wanted(printer, document.pageCount());
    QPainter painter;
    if (!painter.begin(&printer))
        return fail("print.refused", "The printer does not take the pages.", "Look at its name, paper and connection.");
    const int count = pages.last - pages.first + 1;
    for (int i = 0; i < count; ++i) {
        if (progress.stopped()) {
            printer.abort();
            return cancelled();
        }
        progress.at(static_cast<double>(i) / count, "printing pages");
        if (i > 0) printer.newPage();
        paint_page(painter, printer, document, pages.first + i);
    }
    return count;
}

}  // namespace tedge::desk
