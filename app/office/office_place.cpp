// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/office_place.h"

#include "app/charts/chart.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/models/data_table.h"
#include "app/office/answer_model.h"
#include "app/office/filter_panel.h"
#include "app/office/history_panel.h"
#include "app/shell/session.h"
#include "core/exchange/write_files.h"

#include <QButtonGroup>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QPushButton>
#include <QScrollArea>
#include <QTableView>
#include <QVBoxLayout>

namespace keyround {

namespace {

QString fileStem(Question question)
{
    return question == Question::Condition ? QStringLiteral("condition")
                                           : QStringLiteral("went-out-of-condition");
}

} // namespace

struct OfficePlace::Parts
{
    Session &session;
    QButtonGroup *questions = nullptr;
    FilterPanel *filters = nullptr;
    QLabel *sentence = nullptr;
    Chart *chart = nullptr;
    QLabel *hint = nullptr;
    QPushButton *allPeriods = nullptr;
    AnswerModel *model = nullptr;
    DataTable *table = nullptr;
    HistoryPanel *history = nullptr;
    QList<QPushButton *> saves = {};
    ReportTable figures = {};
    int period = -1;
    bool stale = true;

    [[nodiscard]] Question question() const
    {
        return static_cast<Question>(questions->checkedId());
    }
};

OfficePlace::OfficePlace(Session &session, QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(Parts{session}))
{
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(12, 10, 12, 10);
    row->setSpacing(14);
    row->addWidget(buildQuestions());

    m_parts->sentence = plainLabel({}, QStringLiteral("heading"), this);
    m_parts->sentence->setObjectName(QStringLiteral("answer"));
    m_parts->sentence->setTextInteractionFlags(Qt::TextSelectableByMouse);
    auto *splitter = new QSplitter(Qt::Vertical, this);
    splitter->addWidget(buildPicture());
    splitter->addWidget(buildValves());
    splitter->setSizes({340, 260});
    splitter->setChildrenCollapsible(false);
    rememberSplitter(splitter, QStringLiteral("office"));
    auto *answer = new QWidget(this);
    auto *column = new QVBoxLayout(answer);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(m_parts->sentence);
    column->addWidget(splitter, 1);

    m_parts->history = new HistoryPanel(m_parts->session, this);
    m_parts->history->hide();
    connect(m_parts->history, &HistoryPanel::closeWanted, m_parts->history, &QWidget::hide);
    auto *beside = new QSplitter(Qt::Horizontal, this);
    beside->addWidget(answer);
    beside->addWidget(m_parts->history);
    beside->setSizes({700, 360});
    beside->setChildrenCollapsible(false);
    beside->setStretchFactor(0, 1);
    beside->setStretchFactor(1, 0);
    rememberSplitter(beside, QStringLiteral("office-visits"));
    row->addWidget(beside, 1);
    listen();
}

OfficePlace::~OfficePlace() = default;

QWidget *OfficePlace::buildQuestions()
{
    auto *content = new QWidget(this);
    auto *column = new QVBoxLayout(content);
    column->setContentsMargins(0, 0, 8, 0);
    m_parts->questions = new QButtonGroup(this);
    const auto add = [&](Question question, const QString &words, const QString &name) {
        auto *button = new QPushButton(words, content);
        button->setCheckable(true);
        button->setProperty("role", QStringLiteral("question"));
        button->setObjectName(name);
        button->setAccessibleName(QString(words).replace(QLatin1Char('\n'), QLatin1Char(' ')));
        m_parts->questions->addButton(button, static_cast<int>(question));
        column->addWidget(button);
    };
    add(Question::Condition, tr("What condition\nare the valves in?"),
        QStringLiteral("askCondition"));
    add(Question::WentOut, tr("What went out\nof condition?"), QStringLiteral("askWentOut"));
    m_parts->questions->button(static_cast<int>(Question::Condition))->setChecked(true);
    column->addSpacing(12);
    m_parts->filters = new FilterPanel(m_parts->session, content);
    column->addWidget(m_parts->filters);
    column->addStretch(1);

    auto *scroll = new QScrollArea(this);
    scroll->setWidget(content);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setFixedWidth(266);
    return scroll;
}

QWidget *OfficePlace::buildPicture()
{
    auto *box = new QWidget(this);
    m_parts->chart = new Chart(box);
    m_parts->chart->setObjectName(QStringLiteral("officeChart"));
    m_parts->allPeriods = new QPushButton(tr("All periods"), box);
    m_parts->allPeriods->setProperty("role", QStringLiteral("small"));
    m_parts->allPeriods->setObjectName(QStringLiteral("allPeriods"));
    connect(m_parts->allPeriods, &QPushButton::clicked, this, [this] {
        m_parts->period = -1;
        refresh();
    });
    auto *row = new QHBoxLayout;
    m_parts->hint = plainLabel({}, QStringLiteral("quiet"), box);
    row->addWidget(m_parts->hint, 1);
    row->addWidget(m_parts->allPeriods);
    const auto add = [&](const QString &words, const QString &name, const QString &tip, auto act) {
        auto *button = new QPushButton(words, box);
        button->setProperty("role", QStringLiteral("small"));
        button->setObjectName(name);
        button->setToolTip(tip);
        button->setAccessibleName(tip);
        connect(button, &QPushButton::clicked, this, act);
        row->addWidget(button);
        m_parts->saves << button;
    };
    add(tr("PNG"), QStringLiteral("savePng"), tr("Save the picture as PNG"),
        [this] { savePicture(false); });
    add(tr("PDF"), QStringLiteral("savePdf"), tr("Save the picture as PDF"),
        [this] { savePicture(true); });
    add(tr("CSV"), QStringLiteral("saveCsv"), tr("Save the figures as CSV"),
        [this] { saveFigures(); });
    add(tr("Copy"), QStringLiteral("copyPicture"), tr("Copy the picture and its counts"), [this] {
        m_parts->chart->copy();
        showOutcome(this, {}, tr("Copied the picture and its counts."));
    });
    auto *column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    column->addLayout(row);
    column->addWidget(m_parts->chart, 1);
    connect(m_parts->chart, &Chart::itemClicked, this, [this](int period) {
        // The same period again takes the choice back.
        m_parts->period = m_parts->period == period ? -1 : period;
        refresh();
    });
    return box;
}

QWidget *OfficePlace::buildValves()
{
    m_parts->model = new AnswerModel(this);
    m_parts->table = new DataTable(QStringLiteral("valves-behind-the-answer"), this);
    m_parts->table->setModel(m_parts->model);
    QTableView *view = m_parts->table->view();
    view->setAccessibleName(tr("Valves behind the answer"));
    view->setToolTip(tr("Double-click or Enter shows the valve's visits"));
    m_parts->table->setDefaultWidths({90, 260, 95, 150, 150, 200});
    connect(m_parts->table, &DataTable::rowActivated, this, [this](int row) {
        const AnswerRow &chosen = m_parts->model->row(row);
        m_parts->history->showValve(chosen.valve, chosen.visit);
        m_parts->history->show();
    });
    return m_parts->table;
}

void OfficePlace::listen()
{
    connect(m_parts->questions, &QButtonGroup::idClicked, this, [this] {
        m_parts->period = -1;
        m_parts->history->hide();
        refresh();
    });
    connect(m_parts->filters, &FilterPanel::changed, this, [this] {
        m_parts->period = -1;
        refresh();
    });
    Notifier &notifier = m_parts->session.notifier();
    connect(&notifier, &Notifier::valvesChanged, this, &OfficePlace::markStale);
    connect(&notifier, &Notifier::visitsChanged, this, &OfficePlace::markStale);
    connect(&notifier, &Notifier::settingsChanged, this, &OfficePlace::markStale);
    connect(&notifier, &Notifier::projectChanged, this, [this] {
        m_parts->period = -1;
        m_parts->filters->forget();
        m_parts->history->hide();
        markStale();
    });
}

void OfficePlace::markStale()
{
    m_parts->stale = true;
    if (isVisible()) {
        m_parts->filters->refresh();
        refresh();
    }
}

void OfficePlace::showEvent(QShowEvent *event)
{
    QWidget::showEvent(event);
    if (m_parts->stale) {
        markStale();
    }
}

void OfficePlace::refresh()
{
    m_parts->stale = false;
    Asked asked;
    asked.question = m_parts->question();
    asked.filter = m_parts->filters->filter();
    asked.span = m_parts->filters->span();
    asked.length = m_parts->filters->length();
    asked.period = m_parts->period;
    Answer answer = answerTo(m_parts->session, asked);
    m_parts->sentence->setText(answer.sentence);
    m_parts->chart->show(answer.picture);
    m_parts->chart->choose(m_parts->period);
    m_parts->allPeriods->setVisible(m_parts->period >= 0);
    const bool drawn = !answer.picture.isEmpty();
    m_parts->hint->setText(drawn ? tr("Click a period to see the valves behind it.") : QString());
    for (QPushButton *button : std::as_const(m_parts->saves)) {
        button->setEnabled(drawn);
    }
    m_parts->table->setEmptyText(answer.emptyTable);
    m_parts->model->setRows(std::move(answer.rows));
    m_parts->figures = std::move(answer.figures);
    if (m_parts->history->isVisibleTo(this)) {
        m_parts->history->refresh();
    }
}

void OfficePlace::savePicture(bool asPdf)
{
    const QString kind = asPdf ? QStringLiteral("pdf") : QStringLiteral("png");
    const QString path = chooseFileToSave(this, tr("Save the picture"),
                                          fileStem(m_parts->question()) + QLatin1Char('.') + kind,
                                          asPdf ? tr("PDF (*.pdf)") : tr("PNG (*.png)"));
    if (path.isEmpty()) {
        return;
    }
    showOutcome(this, asPdf ? m_parts->chart->savePdf(path) : m_parts->chart->savePng(path),
                tr("Saved the picture to %1").arg(path));
}

void OfficePlace::saveFigures()
{
    const QString path =
        chooseFileToSave(this, tr("Save the figures"),
                         fileStem(m_parts->question()) + QStringLiteral(".csv"), tr("CSV (*.csv)"));
    if (path.isEmpty()) {
        return;
    }
    const CsvTable table{m_parts->figures.columns,
                         {m_parts->figures.rows.begin(), m_parts->figures.rows.end()}};
    showOutcome(this, writeCsv(path, table), tr("Saved the figures to %1").arg(path));
}

} // namespace keyround
