// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/office_place.h"

#include "app/charts/chart_panel.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/dialogs/typed_values.h"
#include "app/dialogs/wait_shown.h"
#include "app/office/answer_tables.h"
#include "app/office/board_preview.h"
#include "app/office/filter_panel.h"
#include "app/office/history_panel.h"
#include "app/office/place_over_time.h"
#include "app/office/valve_life_page.h"
#include "app/shell/session.h"

#include <QButtonGroup>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QStackedLayout>
#include <QVBoxLayout>

#include <cmath>

namespace keyround {

struct OfficePlace::Parts
{
    explicit Parts(Session &opened) : session(opened), desk(opened) {}

    Session &session;
    FigureDesk desk;
    QButtonGroup *questions = nullptr;
    FilterPanel *filters = nullptr;
    QLabel *sentence = nullptr;
    QLabel *caution = nullptr;
    QWidget *wishRow = nullptr;
    CheckedLine *wishDays = nullptr;
    CheckedLine *wishMonths = nullptr;
    ChartPanel *panel = nullptr;
    PlaceOverTime *map = nullptr;
    AnswerTables *tables = nullptr;
    HistoryPanel *history = nullptr;
    ValveLifePage *life = nullptr;
    QStackedLayout *pages = nullptr; ///< the answer, or a valve's whole life
    std::array<int, questionCount> views = {};
    WhatIfWish wish = {};
    int item = -1;
    bool stale = true;

    [[nodiscard]] Question question() const
    {
        return static_cast<Question>(questions->checkedId());
    }
    [[nodiscard]] int &view() { return views[static_cast<size_t>(question())]; }
    [[nodiscard]] FigureScope scope() const
    {
        return {filters->filter(), filters->span(), filters->length()};
    }
};

OfficePlace::OfficePlace(Session &session, QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(session))
{
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(12, 10, 12, 10);
    row->setSpacing(14);
    row->addWidget(buildQuestions());

    m_parts->history = new HistoryPanel(m_parts->session, this);
    m_parts->history->hide();
    auto *beside = new QSplitter(Qt::Horizontal, this);
    beside->addWidget(buildAnswer());
    beside->addWidget(m_parts->history);
    beside->setSizes({700, 360});
    beside->setChildrenCollapsible(false);
    beside->setStretchFactor(0, 1);
    beside->setStretchFactor(1, 0);
    rememberSplitter(beside, QStringLiteral("office-visits"));

    m_parts->life = new ValveLifePage(m_parts->session, this);
    m_parts->pages = new QStackedLayout;
    m_parts->pages->addWidget(beside);
    m_parts->pages->addWidget(m_parts->life);
    row->addLayout(m_parts->pages, 1);
    listen();
}

OfficePlace::~OfficePlace() = default;

QWidget *OfficePlace::buildQuestions()
{
    auto *content = new QWidget(this);
    auto *column = new QVBoxLayout(content);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    m_parts->questions = new QButtonGroup(this);
    for (int i = 0; i < questionCount; ++i) {
        const auto question = static_cast<Question>(i);
        auto *button = new QPushButton(wordFor(question), content);
        button->setCheckable(true);
        button->setProperty("role", QStringLiteral("officeQuestion"));
        QString key = keyFor(question);
        key[0] = key[0].toUpper();
        button->setObjectName(QStringLiteral("ask") + key);
        button->setAccessibleName(wordFor(question));
        button->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
        m_parts->questions->addButton(button, i);
        column->addWidget(button);
    }
    m_parts->questions->button(static_cast<int>(Question::State))->setChecked(true);
    column->addSpacing(6);
    m_parts->filters = new FilterPanel(m_parts->session, content);
    column->addWidget(m_parts->filters);
    column->addStretch(1);
    auto *side = new QWidget(this);
    side->setFixedWidth(304);
    auto *scroll = new QScrollArea(side);
    scroll->setWidget(content);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    // Below what scrolls: it is found however low the window is.
    auto *report = new QPushButton(tr("Board report..."), side);
    report->setObjectName(QStringLiteral("boardReport"));
    report->setToolTip(tr("The programme's report over a year, for a board or a regulator: see it, "
                          "then save it as PDF"));
    connect(report, &QPushButton::clicked, this, &OfficePlace::previewBoardReport);
    auto *all = new QVBoxLayout(side);
    all->setContentsMargins(0, 0, 8, 0);
    all->setSpacing(6);
    all->addWidget(scroll, 1);
    all->addWidget(report);
    return side;
}

QWidget *OfficePlace::buildAnswer()
{
    auto *answer = new QWidget(this);
    m_parts->sentence = plainLabel({}, QStringLiteral("heading"), answer);
    m_parts->sentence->setObjectName(QStringLiteral("answer"));
    m_parts->sentence->setTextInteractionFlags(Qt::TextSelectableByMouse);
    m_parts->caution = plainLabel({}, QStringLiteral("quiet"), answer);
    m_parts->caution->setObjectName(QStringLiteral("caution"));
    m_parts->panel = new ChartPanel({}, answer);
    m_parts->map = new PlaceOverTime(m_parts->session, answer);
    m_parts->map->setObjectName(QStringLiteral("placeOverTime"));
    m_parts->map->hide();
    m_parts->tables = new AnswerTables(answer);
    auto *splitter = new QSplitter(Qt::Vertical, answer);
    splitter->addWidget(m_parts->panel);
    splitter->addWidget(m_parts->tables);
    splitter->setSizes({400, 200}); // the table asks for its five rows first
    splitter->setChildrenCollapsible(false);
    rememberSplitter(splitter, QStringLiteral("office"));
    auto *column = new QVBoxLayout(answer);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(m_parts->sentence);
    column->addWidget(m_parts->caution);
    column->addWidget(buildWish());
    column->addWidget(splitter, 1);
    return answer;
}

/// What somebody asks of the years to come: typed, and refused visibly.
QWidget *OfficePlace::buildWish()
{
    m_parts->wishRow = new QWidget(this);
    auto *row = new QHBoxLayout(m_parts->wishRow);
    row->setContentsMargins(0, 0, 0, 0);
    QLabel *refusal = plainLabel({}, QStringLiteral("refusal"), m_parts->wishRow);
    refusal->hide();
    auto *days = new CheckedLine(
        tr("Crew-days more a month"),
        [this](const QString &text) -> Status {
            const Result<double> typed = numberTyped(text, -60, 200);
            if (!typed) {
                return tl::unexpected(typed.error());
            }
            m_parts->wish.crewDaysMore = *typed;
            m_parts->wishDays->setStored(QString::number(*typed));
            ask();
            return {};
        },
        m_parts->wishRow);
    auto *months = new CheckedLine(
        tr("Months between exercises, for all valves"),
        [this](const QString &text) -> Status {
            std::optional<int> wanted;
            if (!text.trimmed().isEmpty()) {
                const Result<double> typed = numberTyped(text, 1, 600);
                if (!typed) {
                    return tl::unexpected(typed.error());
                }
                wanted = static_cast<int>(std::lround(*typed));
            }
            m_parts->wish.months = wanted;
            m_parts->wishMonths->setStored(wanted ? QString::number(*wanted) : QString());
            ask();
            return {};
        },
        m_parts->wishRow);
    m_parts->wishDays = days;
    m_parts->wishMonths = months;
    days->reset(QString::number(m_parts->wish.crewDaysMore));
    for (CheckedLine *line : {days, months}) {
        line->showRefusalsIn(refusal);
        line->setFixedWidth(70);
    }
    days->line()->setObjectName(QStringLiteral("wishDays"));
    months->line()->setObjectName(QStringLiteral("wishMonths"));
    months->line()->setPlaceholderText(tr("none"));
    row->addWidget(plainCaption(tr("Crew-days more a month")));
    row->addWidget(days);
    row->addSpacing(16);
    row->addWidget(plainCaption(tr("Also try: every valve each")));
    row->addWidget(months);
    row->addWidget(plainCaption(tr("months")));
    row->addWidget(refusal, 1);
    row->addStretch(1);
    m_parts->wishRow->hide();
    return m_parts->wishRow;
}

void OfficePlace::showLife(const ValveId &valve, const VisitId &visit)
{
    m_parts->life->showValve(valve, visit);
    m_parts->pages->setCurrentWidget(m_parts->life);
    m_parts->life->setFocus();
}

void OfficePlace::listen()
{
    connect(m_parts->questions, &QButtonGroup::idClicked, this, [this] {
        m_parts->history->hide();
        m_parts->pages->setCurrentIndex(0);
        ask();
    });
    connect(m_parts->filters, &FilterPanel::changed, this, &OfficePlace::ask);
    connect(m_parts->panel, &ChartPanel::viewChosen, this, [this](int view) {
        m_parts->view() = view;
        ask();
    });
    connect(m_parts->panel, &ChartPanel::allWanted, this, &OfficePlace::ask);
    connect(m_parts->panel, &ChartPanel::itemClicked, this, [this](int item) {
        // The same once more takes the choice back.
        m_parts->item = m_parts->item == item ? -1 : item;
        refresh();
        if (m_parts->item >= 0) {
            m_parts->tables->openOnlyRow(m_parts->question());
        }
    });
    const auto open = [this](const ValveId &valve, const VisitId &visit) {
        m_parts->history->showValve(valve, visit);
        m_parts->history->show();
    };
    connect(m_parts->tables, &AnswerTables::rowOpened, this, open);
    connect(m_parts->map, &PlaceOverTime::valveChosen, this, open);
    connect(m_parts->map, &PlaceOverTime::tableShown, m_parts->panel, &ChartPanel::tellTableShown);
    connect(m_parts->history, &HistoryPanel::closeWanted, m_parts->history, &QWidget::hide);
    connect(m_parts->history, &HistoryPanel::lifeWanted, this, &OfficePlace::showLife);
    connect(m_parts->history, &HistoryPanel::repairWanted, this, &OfficePlace::repairAsked);
    connect(m_parts->life, &ValveLifePage::backWanted, this,
            [this] { m_parts->pages->setCurrentIndex(0); });
    connect(m_parts->life, &ValveLifePage::repairWanted, this, &OfficePlace::repairAsked);
    Notifier &notifier = m_parts->session.notifier();
    connect(&notifier, &Notifier::valvesChanged, this, &OfficePlace::markStale);
    connect(&notifier, &Notifier::visitsChanged, this, &OfficePlace::markStale);
    connect(&notifier, &Notifier::settingsChanged, this, &OfficePlace::markStale);
    connect(&notifier, &Notifier::layersChanged, this, &OfficePlace::markStale);
    connect(&notifier, &Notifier::repairsChanged, m_parts->life, &ValveLifePage::refresh);
    connect(&notifier, &Notifier::projectChanged, this, [this] {
        m_parts->item = -1;
        m_parts->views = {};
        m_parts->filters->forget();
        m_parts->history->hide();
        m_parts->pages->setCurrentIndex(0);
        markStale();
    });
}

void OfficePlace::ask()
{
    m_parts->item = -1;
    refresh();
}

void OfficePlace::markStale()
{
    m_parts->stale = true;
    m_parts->desk.forget();
    if (isVisible()) {
        const WaitShown wait(this); // the histories may have to be read again
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
    const WaitShown wait(this);
    m_parts->stale = false;
    const Question question = m_parts->question();
    const Asked asked{question, m_parts->scope(), m_parts->view(), m_parts->item, m_parts->wish};
    Answer answer = answerTo(m_parts->session, m_parts->desk, asked);
    m_parts->sentence->setText(answer.sentence);
    m_parts->caution->setText(answer.caution);
    m_parts->caution->setVisible(!answer.caution.isEmpty());
    m_parts->wishRow->setVisible(question == Question::WhatIf);
    m_parts->panel->setViews(answer.views, m_parts->view());
    m_parts->panel->show(answer.picture, m_parts->item, answer.hint);
    const bool asMap = question == Question::Changes &&
                       static_cast<ChangesView>(m_parts->view()) == ChangesView::Map;
    if (asMap) {
        m_parts->map->show(m_parts->desk.changes(asked.scope),
                           m_parts->desk.valves(asked.scope.filter),
                           asked.scope.filter.words(m_parts->session.units()));
    }
    m_parts->panel->setInstead(asMap ? m_parts->map : nullptr, asMap ? m_parts->map : nullptr);
    m_parts->tables->show(question, std::move(answer));
    if (m_parts->history->isVisibleTo(this)) {
        m_parts->history->refresh();
    }
    m_parts->life->refresh();
}

void OfficePlace::previewBoardReport()
{
    if (!m_parts->session.isOpen()) {
        Q_EMIT m_parts->session.notifier().failed(
            tr("No project is open. Open one, or begin one, and its report is made here."));
        return;
    }
    const WaitShown wait(this);
    openBoardPreview(this, m_parts->session, m_parts->scope());
}

} // namespace keyround
