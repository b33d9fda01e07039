#include "photographs/measuring_panel.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QProgressBar>
#include <QPushButton>
#include <QVBoxLayout>

#include "photographs/laying.hpp"
#include "photographs/measuring_acts.hpp"
#include "photographs/ruler_row.hpp"
#include "text.hpp"
#include "theme.hpp"
#include "work_bar.hpp"

namespace tedge::desk {

using casebook::Record;

MeasuringPanel::MeasuringPanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      open_(new QPushButton(tr("What this photograph can tell"), this)),
      summary_(new QLabel(this)),
      body_(new QWidget(this)),
      of_(new QLabel(body_)),
      colour_(new FigureRow(body_)),
      evenness_(new FigureRow(body_)),
      sharpness_(new FigureRow(body_)),
      scale_(new FigureRow(body_)),
      noise_(new FigureRow(body_)),
      ruler_(new RulerRow(body_)),
      boards_(new QMenu(this)),
      charts_(new QMenu(this)),
      report_(new QLabel(this)),
      bar_(new QProgressBar(this)),
      cancel_(new QPushButton(tr("Stop measuring"), this)),
      why_(new QPushButton(tr("Where the tolerances come from"), body_)),
      sources_(new QLabel(body_)),
      rows_(new QVBoxLayout(body_)) {
    make_layout();
    make_buttons();
    connect_measuring();
    open(false);
    hide();
}

void MeasuringPanel::make_layout() {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    rows_->setContentsMargins(0, 0, 0, 0);
    for (QLabel* label : {summary_, of_, sources_}) label->setProperty("role", "faded");
    for (QLabel* label : {summary_, of_, report_, sources_}) {
        label->setWordWrap(true);
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    }
    begin_work_bar(*bar_);
    bar_->setAccessibleName(tr("How far the measuring is"));
    auto* under_way = new QHBoxLayout;
    under_way->addWidget(bar_, 1);
    under_way->addWidget(cancel_);
    for (QWidget* each : std::initializer_list<QWidget*>{open_, summary_, report_}) column->addWidget(each);
    column->addLayout(under_way);
    column->addWidget(body_);
    for (QWidget* each :
         std::initializer_list<QWidget*>{of_, colour_, evenness_, sharpness_, noise_, scale_, ruler_, why_, sources_})
        rows_->addWidget(each);
    for (QWidget* each : std::initializer_list<QWidget*>{bar_, cancel_, report_, sources_}) each->hide();
    open_->setCheckable(true);
    why_->setCheckable(true);
    connect(open_, &QPushButton::toggled, this, &MeasuringPanel::open);
    connect(why_, &QPushButton::toggled, sources_, &QWidget::setVisible);
    connect(cancel_, &QPushButton::clicked, this, &MeasuringPanel::cancel);
}

void MeasuringPanel::open(bool is_open) {
    open_->setChecked(is_open);
    body_->setVisible(is_open);
    summary_->setVisible(!is_open);
}

void MeasuringPanel::make_buttons() {
    find_chart_ =
        colour_->add_button(tr("Find the chart"), tr("The 24-patch colour chart is looked for in the photograph"));
    point_chart_ = colour_->add_button(tr("Point at the chart"), tr("Where it is not found by itself"));
    session_chart_ = colour_->add_button(tr("Taken apart …"),
                                         tr("A chart photographed apart, or in another photograph: same camera, lamps "
                                            "and exposure"));
    session_chart_->setMenu(charts_);
    board_ = evenness_->add_button(tr("The board …"),
                                   tr("A photograph of an even white or grey board in the place of the picture, "
                                      "camera and lamps untouched"));
    board_->setMenu(boards_);
    point_edge_ = sharpness_->add_button(tr("Point at an edge"),
                                         tr("A straight edge slanted by a few degrees: the rim of a card"));
    point_ruler_ = scale_->add_button(tr("Point at a ruler"), tr("Two marks of a ruler in the plane of the picture"));
    by_size_ =
        scale_->add_button(tr("By the picture's size"), tr("By the size of the face, as the photograph is placed"));
    point_patch_ = noise_->add_button(tr("Point at a patch"),
                                      tr("A patch of one tone: a grey one of a chart or of a card; paint is none"));
    connect(find_chart_, &QPushButton::clicked, this, &MeasuringPanel::find_charts);
    connect(point_chart_, &QPushButton::clicked, this, [this] { point_at(PointedAt::chart); });
    connect(charts_, &QMenu::aboutToShow, this, &MeasuringPanel::fill_chart_menu);
    connect(boards_, &QMenu::aboutToShow, this, &MeasuringPanel::fill_board_menu);
    connect(point_edge_, &QPushButton::clicked, this, [this] { point_at(PointedAt::edge); });
    connect(point_patch_, &QPushButton::clicked, this, [this] { point_at(PointedAt::patch); });
    connect(point_ruler_, &QPushButton::clicked, this, [this] { point_at(PointedAt::ruler); });
    connect(by_size_, &QPushButton::clicked, this, &MeasuringPanel::scale_by_size);
    connect(ruler_, &RulerRow::given_up, this, [this] {
        end_pointing();
        emit pointing_given_up();
    });
    connect(ruler_, &RulerRow::ready, this, [this](const usecases::RulerSeen& seen) {
        if (ruler_in_) begin({*ruler_in_}, scale_measured(seen), tr("measuring the scale"));
    });
}

void MeasuringPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    if (!snapshot_ || snapshot_->picture.id != snapshot.picture.id) {
        if (!measuring_.running()) say({}, "plain");
        ruler_->hide();
    }
    snapshot_ = snapshot;
    figures_ = usecases::photograph_figures(snapshot);
    show_all();
}

void MeasuringPanel::show_photographs(const std::vector<Uuid>& photographs) {
    if (!measuring_.running()) say({}, "plain");  // it was of others
    chosen_ = photographs;
    show_all();
}

std::vector<const Record*> MeasuringPanel::chosen() const {
    std::vector<const Record*> found;
    for (const Uuid& id : chosen_) {
        const Record* photograph = snapshot_ ? snapshot_->find(id) : nullptr;
        if (photograph != nullptr && photograph->kind == "photograph") found.push_back(photograph);
    }
    return found;
}

void MeasuringPanel::show_all() {
    const bool has_some = !chosen().empty() && !session_.client_looks();
    setVisible(has_some);
    if (!has_some) return;
    show_words();
    show_buttons();
}

void MeasuringPanel::show_words() {
    const auto photographs = chosen();
    const bool alone = photographs.size() == 1;
    const PhotographWords words =
        alone ? words_of(*photographs.front(), figures_[photographs.front()->id]) : words_of(photographs, figures_);
    open_->setText(alone ? tr("What this photograph can tell") : tr("What these %1 can tell").arg(photographs.size()));
    QStringList marks;
    for (const auto& [name, of_it] : {std::pair(tr("colour"), &words.colour), std::pair(tr("light"), &words.evenness),
                                      std::pair(tr("sharpness"), &words.sharpness),
                                      std::pair(tr("noise"), &words.noise), std::pair(tr("scale"), &words.scale)})
        marks << of_it->text.left(1) + QChar(QChar::Nbsp) + name;
    summary_->setText(marks.join(QStringLiteral("   ")));
    of_->setText(alone ? tr("“%1”. Several are chosen in the strip by Shift, all of them by Ctrl+A.")
                             .arg(name_of(*photographs.front()))
                       : tr("As they are chosen in the strip."));
    delete others_;
    others_ = new QWidget(body_);
    auto* others = new QVBoxLayout(others_);
    others->setContentsMargins(0, 0, 0, 0);
    rows_->insertWidget(rows_->indexOf(why_), others_);
    QStringList sources;
    const auto show = [&](FigureRow& row, const FigureWords& of_it) {
        row.show_words(of_it);
        if (!of_it.sources.isEmpty()) sources << of_it.sources;
    };
    show(*colour_, words.colour);
    show(*evenness_, words.evenness);
    show(*sharpness_, words.sharpness);
    show(*noise_, words.noise);
    show(*scale_, words.scale);
    for (const FigureWords& other : words.others) {
        auto* row = new FigureRow(others_);
        others->addWidget(row);
        show(*row, other);
    }
    why_->setVisible(!sources.isEmpty());
    sources_->setText(sources.join(u'\n') + u'\n' +
                      tr("* as reported: the printed table was not seen. That a figure keeps a tolerance certifies "
                         "nothing: that takes the guideline's own target and procedure."));
    sources_->setVisible(!sources.isEmpty() && why_->isChecked());
}

void MeasuringPanel::show_buttons() {
    const bool may_write = !session_.book().read_only();
    for (FigureRow* row : {colour_, evenness_, sharpness_, noise_, scale_}) row->show_buttons(may_write);
    const std::size_t count = chosen().size();
    const auto charts = to_find_charts_in().size(), scales = to_scale_by_size().size();
    find_chart_->setText(count > 1 ? tr("Find the chart in %1").arg(charts) : tr("Find the chart"));
    by_size_->setText(count > 1 ? tr("By the picture's size in %1").arg(scales) : tr("By the picture's size"));
    board_->setText(count > 1 ? tr("The board for these %1 …").arg(count) : tr("The board …"));
    const bool idle = !measuring_.running();
    colour_->show_buttons(may_write && charts > 0);
    find_chart_->setEnabled(idle && charts > 0);
    by_size_->setEnabled(idle && scales > 0);
    by_size_->setVisible(scales > 0);
    board_->setEnabled(idle);
    session_chart_->setEnabled(idle);
    // What is pointed at lies in one photograph.
    for (QPushButton* each : {point_chart_, point_edge_, point_patch_, point_ruler_}) {
        each->setEnabled(idle);
        each->setVisible(count == 1);
    }
    sharpness_->show_buttons(may_write && count == 1);
    noise_->show_buttons(may_write && count == 1);
    scale_->show_buttons(may_write && (count == 1 || scales > 0));
    bar_->setVisible(!idle);
    cancel_->setVisible(!idle);
}

void MeasuringPanel::say(const QString& text, const char* role) {
    say_in(*report_, text, role);
    report_->setVisible(!text.isEmpty());
}

QString MeasuringPanel::report() const {
    return report_->text();
}

}  // namespace tedge::desk
