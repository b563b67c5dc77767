// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/valve_card.h"

#include "app/commands/notice_commands.h"
#include "app/dialogs/notice_panel.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/valve_fields_form.h"
#include "app/dialogs/valve_record.h"
#include "app/dialogs/valve_site_form.h"
#include "app/models/cells.h"
#include "app/models/notice_words.h"
#include "app/shell/session.h"
#include "core/repairs/backlog.h"
#include "core/storage/valve_store.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QScrollArea>
#include <QTabWidget>
#include <QToolButton>
#include <QVBoxLayout>

namespace keyround {

namespace {

QScrollArea *scrolled(QWidget *content)
{
    auto *area = new QScrollArea;
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setWidget(content);
    return area;
}

void showEntries(QVBoxLayout *layout, const std::vector<RecordEntry> &entries,
                 const QString &whenEmpty)
{
    while (QLayoutItem *item = layout->takeAt(0)) {
        delete item->widget();
        delete item;
    }
    if (entries.empty()) {
        layout->addWidget(plainLabel(whenEmpty, QStringLiteral("quiet")));
    }
    for (const RecordEntry &entry : entries) {
        auto *heading = plainLabel(entry.heading, QStringLiteral("entry"));
        auto *lines = plainLabel(entry.lines.join(QLatin1Char('\n')));
        for (QLabel *label : {heading, lines}) {
            label->setTextInteractionFlags(Qt::TextSelectableByMouse);
            layout->addWidget(label);
        }
        lines->setContentsMargins(0, 0, 0, 8);
    }
    layout->addStretch(1);
}

} // namespace

ValveCard::ValveCard(Session &session, QWidget *parent)
    : QFrame(parent), m_session(session), m_tabs(new QTabWidget(this)),
      m_fields(new ValveFieldsForm(session)), m_site(new ValveSiteForm(session))
{
    setProperty("role", QStringLiteral("card"));
    setAccessibleName(tr("Valve card"));
    m_tabs->setDocumentMode(true);
    m_tabs->addTab(scrolled(m_fields), tr("Fields"));
    m_visits = addRecordTab(tr("Visits"));
    m_edits = addRecordTab(tr("Edits"));
    m_tabs->addTab(scrolled(m_site), tr("Work zone"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(10, 8, 6, 6);
    layout->addWidget(buildHead());
    layout->addWidget(m_tabs, 1);
    setMinimumWidth(300);

    Notifier &notifier = session.notifier();
    connect(&notifier, &Notifier::projectChanged, this, [this] { showValve({}); });
    for (const auto change :
         {&Notifier::valvesChanged, &Notifier::visitsChanged, &Notifier::settingsChanged}) {
        connect(&notifier, change, this, &ValveCard::refresh);
    }
    for (const auto change : {&Notifier::layersChanged, &Notifier::networkFixesChanged,
                              &Notifier::shutsChanged, &Notifier::noticesChanged}) {
        connect(&notifier, change, this, &ValveCard::refreshWater);
    }
    connect(&notifier, &Notifier::repairsChanged, this, &ValveCard::refresh);
    QUndoStack &undo = session.undoStack();
    connect(m_undo, &QPushButton::clicked, &undo, &QUndoStack::undo);
    connect(&undo, &QUndoStack::indexChanged, this, &ValveCard::refreshHead);
    refresh();
}

QWidget *ValveCard::buildHead()
{
    auto *head = new QWidget(this);
    m_title = plainLabel({}, QStringLiteral("heading"), head);
    m_mark = new QLabel(head);
    m_mark->setFixedWidth(18);
    m_condition = plainLabel({}, {}, head);
    m_due = plainLabel({}, QStringLiteral("quiet"), head);
    m_water = plainLabel({}, QStringLiteral("quiet"), head);
    m_water->setObjectName(QStringLiteral("cardWater"));
    m_notice = new QPushButton(tr("Notice was given now"), head);
    m_notice->setObjectName(QStringLiteral("cardNotice"));
    m_notice->setToolTip(tr("Write down that the customers were told. It cannot be undone."));
    connect(m_notice, &QPushButton::clicked, this, [this] {
        if (const Status given = giveNotice(m_session, m_valve, {}, {}); !given) {
            Q_EMIT m_session.notifier().failed(given.error().message);
        }
    });
    m_notices = new QPushButton(tr("Notices..."), head);
    m_notices->setObjectName(QStringLiteral("cardNotices"));
    m_notices->setToolTip(tr("Who must be told before this valve is shut, and what to print"));
    connect(m_notices, &QPushButton::clicked, this, [this] {
        const QDate day = firstDayWithNotice(m_session, m_valve);
        NoticePanel::openBeside(
            this, m_session,
            {noticeJobFor(m_session, m_valve, day.isValid() ? day : m_session.today())});
    });
    m_repair = plainLabel({}, QStringLiteral("caution"), head);
    m_repair->setObjectName(QStringLiteral("cardRepair"));
    m_repairs = new QPushButton(tr("Repairs..."), head);
    m_repairs->setObjectName(QStringLiteral("cardRepairs"));
    m_repairs->setToolTip(tr("The requests of this valve, and what its visits propose"));
    connect(m_repairs, &QPushButton::clicked, this, [this] { Q_EMIT repairsWanted(m_valve); });
    auto *close = new QToolButton(head);
    close->setText(QString(QChar(0x00D7)));
    close->setAccessibleName(tr("Close the valve card"));
    close->setToolTip(tr("Close the valve card"));
    connect(close, &QToolButton::clicked, this, &ValveCard::closeWanted);
    m_add = new QPushButton(tr("Add to the round"), head);
    m_add->setObjectName(QStringLiteral("cardAdd"));
    connect(m_add, &QPushButton::clicked, this, [this] { Q_EMIT addToRoundWanted(m_valve); });
    auto *map = new QPushButton(tr("Show"), head);
    map->setToolTip(tr("Show the valve on the map"));
    connect(map, &QPushButton::clicked, this, [this] { Q_EMIT showOnMapWanted(m_valve); });
    m_undo = new QPushButton(tr("Undo"), head);
    m_undo->setObjectName(QStringLiteral("cardUndo"));

    auto *top = new QHBoxLayout;
    top->addWidget(m_title, 1);
    top->addWidget(close, 0, Qt::AlignTop);
    auto *state = new QHBoxLayout;
    state->addWidget(m_mark, 0, Qt::AlignTop);
    state->addWidget(m_condition, 1);
    auto *buttons = new QHBoxLayout;
    buttons->addWidget(m_add, 1);
    buttons->addWidget(map);
    buttons->addWidget(m_undo);
    auto *layout = new QVBoxLayout(head);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(4);
    layout->addLayout(top);
    layout->addLayout(state);
    layout->addWidget(m_due);
    layout->addWidget(m_repair);
    layout->addWidget(m_water);
    auto *telling = new QHBoxLayout;
    telling->addWidget(m_notice, 1);
    telling->addWidget(m_notices);
    telling->addWidget(m_repairs);
    layout->addLayout(telling);
    layout->addLayout(buttons);
    return head;
}

QVBoxLayout *ValveCard::addRecordTab(const QString &title)
{
    auto *page = new QWidget;
    auto *layout = new QVBoxLayout(page);
    layout->setContentsMargins(8, 8, 8, 8);
    layout->setSpacing(2);
    m_tabs->addTab(scrolled(page), title);
    return layout;
}

void ValveCard::showValve(const ValveId &valve)
{
    m_fields->showValve(valve);
    m_site->showValve(valve);
    m_valve = valve;
    refresh();
}

void ValveCard::setRoundState(bool canAdd, bool isStop)
{
    m_add->setEnabled(canAdd && !isStop && !m_valve.isNull());
    m_add->setText(isStop ? tr("In the round") : tr("Add to the round"));
}

void ValveCard::refreshRepairs()
{
    const QString line = m_session.isOpen() && !m_valve.isNull()
                             ? repairLine(m_session.repairs(), m_valve)
                             : QString();
    m_repair->setText(line);
    m_repair->setVisible(!line.isEmpty());
}

void ValveCard::refresh()
{
    refreshHead();
    refreshRepairs();
    refreshWater();
    refreshRecords();
}

void ValveCard::refreshWater()
{
    const QString out = m_valve.isNull() ? QString() : whoLosesWater(m_session, m_valve);
    const NoticeStanding notice =
        out.isEmpty() ? NoticeStanding{}
                      : noticeStanding(m_session, m_valve,
                                       QDateTime(firstDayWithNotice(m_session, m_valve),
                                                 m_session.settings().shift.from));
    m_water->setText(QStringList{out, notice.words}.join(QLatin1Char(' ')).trimmed());
    m_water->setVisible(!out.isEmpty());
    m_notice->setVisible(notice.state == NoticeState::Needed);
    m_notices->setVisible(!out.isEmpty());
}

void ValveCard::refreshHead()
{
    const QUndoStack &undo = m_session.undoStack();
    m_undo->setEnabled(undo.canUndo());
    m_undo->setToolTip(
        plainToolTip(undo.canUndo() ? tr("Undo: %1").arg(undo.undoText()) : tr("Nothing to undo")));
    const Valve *valve = m_session.valve(m_valve);
    if (valve == nullptr) {
        m_title->setText(tr("No valve chosen"));
        m_mark->clear();
        m_condition->clear();
        m_due->clear();
        return;
    }
    const ValveHistory &history = m_session.history(m_valve);
    m_title->setText(tr("Valve %1").arg(valve->number));
    m_mark->setPixmap(conditionIcon(history.condition).pixmap(16, 16));
    QString condition =
        tr("%1. Judged against %2.").arg(wordFor(history.condition), wordsFor(history.baseline));
    condition[0] = condition[0].toUpper();
    m_condition->setText(condition);
    const DueEntry *due = m_session.dueEntry(m_valve);
    m_due->setText(due != nullptr ? due->reason : QString());
}

void ValveCard::refreshRecords()
{
    const ValveHistory &history = m_session.history(m_valve);
    showEntries(m_visits, visitEntries(history), tr("No visit on record."));
    m_tabs->setTabText(1, tr("Visits (%1)").arg(history.visits.size()));
    std::vector<ValveEdit> edits;
    if (m_session.isOpen() && !m_valve.isNull()) {
        edits = m_session.valueOr(m_session.project().valves().edits(m_valve), {});
    }
    showEntries(m_edits, editEntries(edits), tr("Nothing was changed since the valve came in."));
    m_tabs->setTabText(2, tr("Edits (%1)").arg(edits.size()));
}

} // namespace keyround
