// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/valve_life_page.h"

#include "app/charts/chart_panel.h"
#include "app/charts/figure_pictures.h"
#include "app/commands/photo_commands.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/office/visit_list.h"
#include "app/shell/session.h"
#include "core/repairs/repair_book.h"
#include "core/reports/valve_words.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QPixmap>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <map>

namespace keyround {

namespace {

QString dayText(const QDate &day)
{
    return day.toString(Qt::ISODate);
}

QString lifeText(const ValveLife &life)
{
    const QString from =
        life.began.isValid()       ? ValveLifePage::tr("put in on %1").arg(dayText(life.began))
        : life.installed.isValid() ? ValveLifePage::tr("installed in %1").arg(life.installed.year())
                                   : ValveLifePage::tr("install year not known");
    const QString to = life.ended.isValid()
                           ? ValveLifePage::tr("replaced on %1").arg(dayText(life.ended))
                           : ValveLifePage::tr("in the ground");
    return ValveLifePage::tr("%1, %2; %n visits", nullptr,
                             static_cast<int>(life.endVisit - life.firstVisit))
        .arg(from, to);
}

QStringList requestLines(const RepairBook &book, const ValveId &valve)
{
    QStringList lines;
    const std::vector<size_t> indices = book.byValve.value(valve);
    for (auto index = indices.rbegin(); index != indices.rend(); ++index) {
        const RepairRequest &request = book.requests[*index];
        QString line =
            ValveLifePage::tr("%1, opened %2: %3")
                .arg(request.number, dayText(request.opened.localDate()), wordFor(request.state));
        if (request.doneOn.isValid()) {
            line += ValveLifePage::tr("; done %1").arg(dayText(request.doneOn));
        }
        if (request.closedOn.isValid()) {
            line += ValveLifePage::tr("; closed %1").arg(dayText(request.closedOn));
        }
        lines << line + QStringLiteral(" (") + findingsWords(request.findings) + QLatin1Char(')');
    }
    return lines;
}

QStringList problemCounts(const ValveHistory &history)
{
    std::map<QString, int> counts;
    for (const ReadVisit &read : history.visits) {
        for (const Problem problem : read.visit.problems) {
            ++counts[QString::fromUtf8(infoOf(problem).words)];
        }
    }
    QStringList lines;
    for (const auto &[words, count] : counts) {
        lines << (count == 1 ? words : ValveLifePage::tr("%1 (%2 times)").arg(words).arg(count));
    }
    return lines;
}

} // namespace

ValveLifePage::ValveLifePage(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_title(plainLabel({}, QStringLiteral("title"), this)),
      m_where(plainLabel({}, QStringLiteral("quiet"), this)),
      m_panel(new ChartPanel(QStringLiteral("life"), this)), m_visits(new VisitList(this))
{
    setFocusPolicy(Qt::StrongFocus);
    m_title->setObjectName(QStringLiteral("lifeTitle"));
    auto *back = new QPushButton(tr("Back to the answer"), this);
    back->setObjectName(QStringLiteral("lifeBack"));
    connect(back, &QPushButton::clicked, this, &ValveLifePage::backWanted);
    auto *repair = new QPushButton(tr("Repair request"), this);
    repair->setObjectName(QStringLiteral("lifeRepair"));
    connect(repair, &QPushButton::clicked, this,
            [this] { Q_EMIT repairWanted(m_valve, m_marked); });
    auto *head = new QHBoxLayout;
    head->addWidget(m_title, 1);
    head->addWidget(repair, 0, Qt::AlignTop);
    head->addWidget(back, 0, Qt::AlignTop);

    auto *upper = new QSplitter(Qt::Vertical, this);
    upper->addWidget(m_panel);
    upper->addWidget(m_visits);
    upper->setSizes({320, 260});
    upper->setChildrenCollapsible(false);
    rememberSplitter(upper, QStringLiteral("valve-life"));
    auto *both = new QSplitter(Qt::Horizontal, this);
    both->addWidget(buildFacts());
    both->addWidget(upper);
    both->setSizes({300, 760});
    both->setStretchFactor(1, 1);
    both->setChildrenCollapsible(false);
    rememberSplitter(both, QStringLiteral("valve-life-facts"));
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addLayout(head);
    column->addWidget(m_where);
    column->addWidget(both, 1);
    connect(m_panel, &ChartPanel::itemClicked, this, [this](int item) {
        const ValveTurns turns =
            valveTurns(m_session.history(m_valve), m_valve, m_session.settings().tolerance);
        if (item < static_cast<int>(turns.counts.size())) {
            const VisitId visit = turns.counts[static_cast<size_t>(item)].visit;
            m_marked = visit == m_marked ? VisitId() : visit; // a second time takes it back
            refresh();
        }
    });
    connect(m_panel, &ChartPanel::allWanted, this, [this] {
        m_marked = {};
        refresh();
    });
}

QWidget *ValveLifePage::buildFacts()
{
    auto *scroll = new QScrollArea(this);
    scroll->setObjectName(QStringLiteral("lifeFacts"));
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setMinimumWidth(230);
    auto *content = new QWidget;
    m_facts = new QVBoxLayout(content);
    m_facts->setContentsMargins(0, 0, 8, 0);
    scroll->setWidget(content);
    return scroll;
}

void ValveLifePage::showValve(const ValveId &valve, const VisitId &marked)
{
    m_valve = valve;
    m_marked = marked;
    refresh();
}

void ValveLifePage::refresh()
{
    if (m_valve.isNull()) {
        return;
    }
    const Valve *valve = m_session.valve(m_valve);
    if (valve == nullptr) {
        m_valve = {};
        Q_EMIT backWanted();
        return;
    }
    const UnitSystem units = m_session.units();
    m_title->setText(tr("Valve %1: %2").arg(valve->number, whatWords(*valve, units)));
    m_where->setText(whereWords(*valve, units));
    const ValveTurns turns =
        valveTurns(m_session.history(m_valve), m_valve, m_session.settings().tolerance);
    int chosen = -1;
    for (size_t i = 0; i < turns.counts.size(); ++i) {
        chosen =
            turns.counts[i].visit == m_marked && !m_marked.isNull() ? static_cast<int>(i) : chosen;
    }
    m_panel->show(valveTurnsPicture(turns, valve->number), chosen,
                  tr("Click a count to see its visit."));
    m_visits->showVisits(m_session, m_valve, m_marked);
    showFacts();
}

void ValveLifePage::addFact(const QString &heading, const QStringList &lines)
{
    QWidget *content = m_facts->parentWidget();
    m_facts->addWidget(plainLabel(heading, QStringLiteral("entry"), content));
    for (const QString &line : lines) {
        m_facts->addWidget(plainLabel(line, {}, content));
    }
    m_facts->addSpacing(6);
}

void ValveLifePage::showFacts()
{
    while (QLayoutItem *item = m_facts->takeAt(0)) {
        delete item->widget();
        delete item;
    }
    const Valve &valve = *m_session.valve(m_valve);
    const ValveHistory &history = m_session.history(m_valve);
    QStringList now{wordFor(history.condition)};
    if (history.firstBad.isValid()) {
        now << tr("Since %1").arg(dayText(history.firstBad));
    }
    if (history.leftOtherThanNormal) {
        now << tr("Not in its normal position: left %1")
                   .arg(standingWords(*history.leftOtherThanNormal));
    }
    addFact(tr("Condition now"), now);
    if (const DueEntry *due = m_session.dueEntry(m_valve)) {
        addFact(tr("What next"), {wordFor(due->state), due->reason});
    }
    addFact(tr("Baseline for the next count"), {wordsFor(history.baseline)});
    QStringList lives;
    for (auto life = history.lives.rbegin(); life != history.lives.rend(); ++life) {
        lives << lifeText(*life);
    }
    addFact(history.wasReplaced() ? tr("Its lives, newest first") : tr("In the ground"), lives);
    const QStringList problems = problemCounts(history);
    addFact(tr("Problems found so far"), problems.isEmpty() ? QStringList{tr("none")} : problems);
    const QStringList repairs = requestLines(m_session.repairs(), m_valve);
    addFact(tr("Repair requests, newest first"),
            repairs.isEmpty() ? QStringList{tr("none")} : repairs);
    if (valve.isCritical()) {
        addFact(tr("Cannot go without water"), {valve.criticalCustomers});
    }
    if (!valve.remarks.isEmpty()) {
        addFact(tr("Remarks"), {valve.remarks});
    }
    showPhotos();
    m_facts->addStretch(1);
}

void ValveLifePage::showPhotos()
{
    const std::vector<Photo> photos = photosOfValve(m_session, m_valve);
    if (photos.empty()) {
        return;
    }
    addFact(tr("Photos"), {});
    for (auto photo = photos.rbegin(); photo != photos.rend(); ++photo) {
        auto *picture = new QLabel(m_facts->parentWidget());
        QPixmap thumbnail;
        const QString words =
            QStringLiteral("%1, %2").arg(photo->fileName, dayText(photo->taken.localDate()));
        if (thumbnail.loadFromData(photo->thumbnail)) {
            picture->setPixmap(thumbnail);
        }
        picture->setAccessibleName(words);
        m_facts->addWidget(picture);
        m_facts->addWidget(plainLabel(words, QStringLiteral("quiet"), m_facts->parentWidget()));
    }
}

void ValveLifePage::keyPressEvent(QKeyEvent *event)
{
    if (event->key() == Qt::Key_Escape) {
        Q_EMIT backWanted();
        return;
    }
    QWidget::keyPressEvent(event);
}

} // namespace keyround
