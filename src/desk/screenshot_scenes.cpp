#include "screenshot_scenes.hpp"

#include <QComboBox>
#include <QCoreApplication>
#include <QLineEdit>
#include <QMouseEvent>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QTabWidget>
#include <QTimer>

#include "accounts/house_dialog.hpp"
#include "accounts/stock_book_page.hpp"
#include "ceiling/ceiling_panel.hpp"
#include "compare/compare_view.hpp"
#include "desk_window.hpp"
#include "forms/override_dialog.hpp"
#include "people/people_dialog.hpp"
#include "saleday/cards_dialog.hpp"
#include "saleday/deadlines_dialog.hpp"
#include "saleday/invoice_dialog.hpp"
#include "saleday/price_book_dialog.hpp"
#include "saleday/result_dialog.hpp"
#include "saleday/terms_dialog.hpp"
#include "settling/settling_dialog.hpp"
#include "tedge/base/files.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using usecases::Stage;

constexpr int opened_ms = 50;
constexpr int premium_below_px = 400;

casebook::CaseSnapshot first_case(DeskWindow& window) {
    return *window.session().book().snapshot(window.session().book().cases()->front().id);
}

void show_half_and_half(DeskWindow& window) {
    EaselSide& side = window.case_view().easel_side();
    const casebook::CaseSnapshot snapshot = first_case(window);
    std::optional<Uuid> first;
    std::optional<Uuid> last;
    for (const casebook::Record* photo : snapshot.of_kind("photograph")) {
        const bool fits = photo->body.text_or("face") == "recto" && photo->body.text_or("light") == "normal" &&
                          photo->body.has("face_from_photo");
        if (!fits) continue;
        (first ? last : first) = photo->id;
        if (photo->body.text_or("stage") == "cleaned") break;
    }
    window.case_view().show_sheet(Stage::photographs);
    if (first) side.show_photograph(*first);
    if (last) side.set_beside(*last);
}

std::unique_ptr<QDialog> settling(DeskWindow& window) {
    auto dialog = std::make_unique<SettlingDialog>(window.session(), first_case(window), &window);
    return dialog->boxes().isEmpty() ? nullptr : std::move(dialog);
}

// Gate 22 is asked when the sheet is shown; where it is open there is nothing to pass.
std::unique_ptr<QDialog> passing_gate_22(DeskWindow& window) {
    const auto& closing = window.case_view().sheets().dossier().closing();
    if (closing.empty()) return nullptr;
    return std::make_unique<OverrideDialog>(closing, shown(window.session().how().author), &window);
}

std::unique_ptr<QDialog> people(DeskWindow& window) {
    auto dialog = std::make_unique<PeopleDialog>(window.session(), window.drafts(), &window);
    const auto all = window.session().book().people();
    if (all && !all->empty()) dialog->open_person(all->back().id);
    return dialog;
}

std::unique_ptr<QDialog> house(DeskWindow& window, int page) {
    auto dialog = std::make_unique<HouseDialog>(window.session(), &window);
    dialog->stock_book().set_period(QStringLiteral("1 January 2024"), QStringLiteral("today"));
    dialog->pages().setCurrentIndex(page);
    return dialog;
}

// The questions lie below the figures.
void show_duties(DeskWindow& window) {
    window.case_view().show_sheet(Stage::account);
    CaseSheets& sheets = window.case_view().sheets();
    sheets.duties().open(true);
    QTimer::singleShot(opened_ms, &sheets, [&sheets] {
        if (auto* area = sheets.sheet(Stage::account).findChild<QScrollArea*>())
            area->verticalScrollBar()->setValue(sheets.duties().y());
    });
}

void show_difference(DeskWindow& window) {
    show_half_and_half(window);
    window.case_view().easel_side().colour_difference();
}

// The panel lies below the intake and what is missing.
void show_measuring(DeskWindow& window) {
    show_half_and_half(window);
    window.case_view().easel_side().half_and_half();
    RecordSheet& sheet = window.case_view().sheets().sheet(Stage::photographs);
    window.case_view().sheets().measuring().open(true);
    QTimer::singleShot(opened_ms, &sheet, [&window, &sheet] {
        if (auto* area = sheet.findChild<QScrollArea*>())
            area->verticalScrollBar()->setValue(window.case_view().sheets().measuring().y());
    });
}

// Held where the size is seen.
void drag_a_place(EaselSide& side) {
    side.draw_place();
    const auto mouse = [&](QEvent::Type type, QPointF at) {
        QMouseEvent event(type, at, side.easel().mapToGlobal(at), Qt::LeftButton, Qt::LeftButton, Qt::NoModifier);
        QCoreApplication::sendEvent(&side.easel(), &event);
    };
    const QPointF middle = QRectF(side.easel().rect()).center();
    mouse(QEvent::MouseButtonPress, middle - QPointF(60, 40));
    mouse(QEvent::MouseMove, middle + QPointF(70, 50));
}

// Amounts nobody converts: a plan in another currency than the costs or the terms of the sale.
void reckon_in_another_currency(DeskWindow& window) {
    window.case_view().show_sheet(Stage::ceiling);
    auto* panel = window.case_view().sheets().sheet(Stage::ceiling).findChild<CeilingPanel*>();
    const auto type = [&](const QString& name, const QString& text) {
        for (QLineEdit* line : panel->findChildren<QLineEdit*>()) {
            if (line->accessibleName() == name) return line->setText(text);
        }
    };
    type(QStringLiteral("chance (%), 1"), QStringLiteral("100"));
    type(QStringLiteral("sells for, 1"), QStringLiteral("6000"));
    type(QStringLiteral("Profit wanted"), QStringLiteral("800"));
    panel->findChild<QComboBox*>()->setEditText(QStringLiteral("EUR"));
}

void open_sale_terms(DeskWindow& window) {
    RecordSheet& sheet = window.case_view().sheets().sheet(Stage::lot);
    window.case_view().show_sheet(Stage::lot);
    window.case_view().begin_new_record();
    for (QPushButton* button : sheet.form().findChildren<QPushButton*>()) {
        if (button->isCheckable() && button->text().contains(QStringLiteral("erms of the sale")))
            button->setChecked(true);
    }
    FieldEditor* premium = sheet.form().editor("terms/premium");
    auto* scroll = sheet.form().findChild<QScrollArea*>();
    if (premium == nullptr || scroll == nullptr) return;
    // Once they have their room.
    QTimer::singleShot(opened_ms, premium,
                       [premium, scroll] { scroll->ensureWidgetVisible(premium, 0, premium_below_px); });
}

void add_sheets(std::vector<Scene>& all) {
    for (const Stage stage : usecases::all_stages) {
        all.push_back({shown(to_text(stage)), [stage](DeskWindow& window) { window.case_view().show_sheet(stage); }});
    }
    for (const Stage stage : usecases::all_stages) {
        all.push_back({shown(to_text(stage)) + QStringLiteral("-form"),
                       [stage](DeskWindow& window) {
                           window.case_view().show_sheet(stage);
                           window.case_view().begin_new_record();
                       },
                       [stage](DeskWindow& window) { window.case_view().sheets().sheet(stage).form().give_up(); }});
    }
}

void add_views(std::vector<Scene>& all, const QString& photographs) {
    all.push_back({QStringLiteral("half-and-half"), show_half_and_half,
                   [](DeskWindow& window) { window.case_view().easel_side().show_face(Face::recto); }});
    all.push_back({QStringLiteral("verso"),
                   [](DeskWindow& window) {
                       window.case_view().show_sheet(Stage::research);
                       window.case_view().easel_side().show_face(Face::verso);
                   },
                   [](DeskWindow& window) { window.case_view().easel_side().show_face(Face::recto); }});
    all.push_back({QStringLiteral("dossier-pages"), [](DeskWindow& window) {
                       window.case_view().show_sheet(Stage::dossier);
                       window.case_view().sheets().dossier().make();
                   }});
    all.push_back({QStringLiteral("client-in-the-room"),
                   [](DeskWindow& window) {
                       window.case_view().show_sheet(Stage::lot);
                       window.session().set_client_looks(true);
                   },
                   [](DeskWindow& window) { window.session().set_client_looks(false); }});
    all.push_back({QStringLiteral("without-places"),
                   [](DeskWindow& window) {
                       window.case_view().show_sheet(Stage::survey);
                       window.case_view().easel_side().show_places(false);
                   },
                   [](DeskWindow& window) { window.case_view().easel_side().show_places(true); }});
    all.push_back({QStringLiteral("difference"), show_difference,
                   [](DeskWindow& window) { window.case_view().easel_side().show_face(Face::verso); }});
    for (const auto& [name, question] : {std::pair("compare-half", 1), std::pair("compare-crack", 2),
                                         std::pair("compare-lights", 3), std::pair("compare-behind", 4)}) {
        all.push_back({QString::fromLatin1(name),
                       [question = static_cast<std::size_t>(question)](DeskWindow& window) {
                           window.case_view().compare(Face::recto, {});
                           window.case_view().comparison().ask(question);
                       },
                       [](DeskWindow& window) { window.case_view().show_sheet(Stage::photographs); }});
    }
    all.push_back({QStringLiteral("measuring"), show_measuring});
    all.push_back({QStringLiteral("duties"), show_duties,
                   [](DeskWindow& window) { window.case_view().sheets().duties().open(false); }});
    all.push_back({QStringLiteral("measuring-several"), [](DeskWindow& window) {
                       show_measuring(window);
                       window.case_view().easel_side().strip().selectAll();
                   }});
    all.push_back({QStringLiteral("drawing-a-place"),
                   [](DeskWindow& window) {
                       show_half_and_half(window);
                       window.case_view().easel_side().half_and_half();
                       drag_a_place(window.case_view().easel_side());
                   },
                   [](DeskWindow& window) { window.case_view().easel().set_tool(Tool::look); }});
    all.push_back({QStringLiteral("other-currency"), reckon_in_another_currency});
    all.push_back({QStringLiteral("sale-terms"), open_sale_terms,
                   [](DeskWindow& window) { window.case_view().sheets().sheet(Stage::lot).form().give_up(); }});
    all.push_back({QStringLiteral("title-and-size"),
                   [](DeskWindow& window) { emit window.case_view().head().facts_wanted(); },
                   [](DeskWindow& window) { window.case_view().sheets().sheet(Stage::lot).form().give_up(); }});
    if (photographs.isEmpty()) return;
    all.push_back({QStringLiteral("intake"),
                   [photographs](DeskWindow& window) { window.take_in({path_from_utf8(plain(photographs))}); }});
}

void add_dialogs(std::vector<Scene>& all) {
    all.push_back({QStringLiteral("settling"), [](DeskWindow& window) { window.case_view().show_sheet(Stage::survey); },
                   [](DeskWindow&) {}, settling});
    all.push_back({QStringLiteral("passing-gate-22"),
                   [](DeskWindow& window) {
                       window.case_view().show_sheet(Stage::dossier);
                       window.case_view().sheets().dossier().choose_reader(casebook::Reader::buyer);
                       window.case_view().sheets().dossier().make();
                   },
                   [](DeskWindow&) {}, passing_gate_22});
    all.push_back({QStringLiteral("people"), [](DeskWindow& window) { window.case_view().show_sheet(Stage::transit); },
                   [](DeskWindow&) {}, people});
    for (const auto& [name, page] : {std::pair("house-pictures", 0), std::pair("house-stock-book", 1),
                                     std::pair("house-price-list", 2), std::pair("house-house", 3)}) {
        all.push_back({QString::fromLatin1(name),
                       [](DeskWindow& window) { window.case_view().show_sheet(Stage::account); }, [](DeskWindow&) {},
                       [page = page](DeskWindow& window) { return house(window, page); }});
    }
}

// Of the case on the desk, as the sheets open them.
template <class Dialog>
auto sale_dialog() {
    return [](DeskWindow& window) -> std::unique_ptr<QDialog> {
        return std::make_unique<Dialog>(window.session(), first_case(window), &window);
    };
}

void add_sale_dialogs(std::vector<Scene>& all) {
    const auto lot = [](DeskWindow& window) { window.case_view().show_sheet(Stage::lot); };
    const auto nothing = [](DeskWindow&) {};
    const auto invoice = [](DeskWindow& window) -> std::unique_ptr<QDialog> {
        auto dialog = std::make_unique<InvoiceDialog>(window.session(), first_case(window), &window);
        dialog->fill_as_due();
        return dialog;
    };
    const auto deadlines = [](bool are_all) {
        return [are_all](DeskWindow& window) -> std::unique_ptr<QDialog> {
            const auto of_case = are_all ? std::nullopt : std::optional(first_case(window).picture.id);
            return std::make_unique<DeadlinesDialog>(window.session(), of_case, &window);
        };
    };
    all.push_back({QStringLiteral("sale-cards"), lot, nothing, sale_dialog<CardsDialog>()});
    all.push_back({QStringLiteral("sale-what-it-comes-to"), lot, nothing, sale_dialog<TermsDialog>()});
    all.push_back({QStringLiteral("sale-result"), lot, nothing, sale_dialog<ResultDialog>()});
    all.push_back({QStringLiteral("sale-invoice"), lot, nothing, invoice});
    all.push_back({QStringLiteral("sale-deadlines"), lot, nothing, deadlines(false)});
    all.push_back({QStringLiteral("sale-all-deadlines"), lot, nothing, deadlines(true)});
    all.push_back({QStringLiteral("price-book"), lot, nothing, [](DeskWindow& window) -> std::unique_ptr<QDialog> {
                       return std::make_unique<PriceBookDialog>(window.session(), &window);
                   }});
}

}  // namespace

std::vector<Scene> scenes(const QString& photographs) {
    std::vector<Scene> all;
    add_sheets(all);
    add_views(all, photographs);
    add_dialogs(all);
    add_sale_dialogs(all);
    return all;
}

}  // namespace tedge::desk
