// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/side_column.h"

#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/plain_label.h"
#include "app/models/cells.h"
#include "app/models/data_table.h"
#include "app/models/due_model.h"
#include "app/models/round_model.h"
#include "app/models/row_drag.h"
#include "app/models/valve_model.h"
#include "app/shell/session.h"
#include "app/yard/left_out_model.h"
#include "app/yard/round_desk.h"
#include "app/yard/stop_actions.h"

#include <QButtonGroup>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QItemSelectionModel>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QStackedWidget>
#include <QTableView>
#include <QToolButton>
#include <QVBoxLayout>

namespace keyround {

namespace {

QWidget *pageWith(DataTable *table)
{
    auto *page = new QWidget;
    auto *layout = new QVBoxLayout(page);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(table, 1);
    return page;
}

} // namespace

SideColumn::SideColumn(Session &session, RoundDesk &desk, StopActions &actions, QWidget *parent)
    : QWidget(parent), m_session(session), m_desk(desk), m_actions(actions),
      m_buttons(new QButtonGroup(this)), m_pages(new QStackedWidget(this)),
      m_due(new DueModel(session, this)), m_valves(new ValveModel(session, this)),
      m_stops(new RoundModel(session, this)), m_leftOut(new LeftOutModel(this))
{
    auto *row = new QHBoxLayout;
    row->setSpacing(4);
    for (const int page : {DuePage, ValvesPage, StopsPage, LeftOutPage}) {
        auto *button = new QPushButton(this);
        button->setObjectName(QStringLiteral("view%1").arg(page));
        button->setCheckable(true);
        button->setProperty("role", QStringLiteral("view"));
        m_buttons->addButton(button, page);
        row->addWidget(button);
    }
    row->addStretch(1);
    m_pages->addWidget(buildDuePage());
    m_pages->addWidget(buildValvesPage());
    m_pages->addWidget(buildStopsPage());
    m_pages->addWidget(buildLeftOutPage());
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 6, 0);
    layout->addLayout(row);
    layout->addWidget(m_pages, 1);
    for (DataTable *table : {m_dueTable, m_valveTable, m_stopTable, m_leftOutTable}) {
        watch(table);
        m_actions.giveTo(table->view());
    }
    watchDragging();
    connect(m_buttons, &QButtonGroup::idClicked, m_pages, &QStackedWidget::setCurrentIndex);
    showPage(DuePage);

    connect(m_due, &QAbstractItemModel::modelReset, this, &SideColumn::refresh);
    connect(m_valves, &QAbstractItemModel::modelReset, this, &SideColumn::refresh);
    connect(&desk, &RoundDesk::changed, this, &SideColumn::refresh);
    refresh();
}

QWidget *SideColumn::buildDuePage()
{
    m_dueTable = new DataTable(QStringLiteral("due"));
    auto *show = new CalmComboBox(m_dueTable);
    show->setAccessibleName(tr("Which valves the list shows"));
    show->addItems({tr("To visit"), tr("Waiting for repair"), tr("All")});
    connect(show, &QComboBox::currentIndexChanged, this,
            [this](int index) { m_due->setShow(static_cast<DueModel::Show>(index)); });
    m_dueTable->addTool(show);
    m_dueTable->setModel(m_due);
    m_dueTable->setDefaultWidths({84, 104, 92, 110, 150, 120});
    QWidget *page = pageWith(m_dueTable);
    m_reason = plainLabel({}, {}, page);
    m_reason->setObjectName(QStringLiteral("reason"));
    m_reason->setMinimumHeight(40);
    m_reason->setAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    page->layout()->addWidget(m_reason);
    addAddButton(page);
    return page;
}

QWidget *SideColumn::buildValvesPage()
{
    m_valveTable = new DataTable(QStringLiteral("valves"));
    m_valveTable->setModel(m_valves);
    m_valveTable->setDefaultWidths({76, 130, 104, 60, 90, 200});
    QWidget *page = pageWith(m_valveTable);
    addAddButton(page);
    return page;
}

QWidget *SideColumn::buildStopsPage()
{
    m_stopTable = new DataTable(QStringLiteral("round-stops"));
    m_stopTable->setModel(m_stops);
    m_stopTable->setEmptyText(tr("This round has no stops yet. Draw up the round, or choose valves "
                                 "in the list or on the map and add them."));
    m_stopTable->setDefaultWidths({46, 84, 96, 56, 56, 64, 56, 76, 70});
    QWidget *page = pageWith(m_stopTable);
    m_drop = new QPushButton(tr("Drop from the round"), page);
    m_drop->setObjectName(QStringLiteral("drop"));
    connect(m_drop, &QPushButton::clicked, this, &SideColumn::dropWanted);
    page->layout()->addWidget(m_drop);
    return page;
}

QWidget *SideColumn::buildLeftOutPage()
{
    m_leftOutTable = new DataTable(QStringLiteral("left-out"));
    m_leftOutTable->setObjectName(QStringLiteral("leftOutTable"));
    m_leftOutTable->setModel(m_leftOut);
    m_leftOutTable->setDefaultWidths({90});
    QWidget *page = pageWith(m_leftOutTable);
    m_whyLeftOut = plainLabel({}, {}, page);
    m_whyLeftOut->setObjectName(QStringLiteral("whyLeftOut"));
    m_whyLeftOut->setMinimumHeight(40);
    page->layout()->addWidget(m_whyLeftOut);
    addAddButton(page);
    QToolButton *mustGo = m_actions.addButton(StopActions::MustGo, page);
    mustGo->setObjectName(QStringLiteral("leftOutMustGo"));
    mustGo->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    page->layout()->addWidget(mustGo);
    return page;
}

QPushButton *SideColumn::addAddButton(QWidget *page)
{
    auto *add = new QPushButton(page);
    add->setObjectName(QStringLiteral("add"));
    connect(add, &QPushButton::clicked, this, &SideColumn::addWanted);
    page->layout()->addWidget(add);
    m_adds << add;
    return add;
}

void SideColumn::watch(DataTable *table)
{
    connect(table, &DataTable::selectionChanged, this, [this, table] {
        if (!m_isShowing) {
            Q_EMIT valvesChosen(chosenIn(table));
        }
    });
    connect(table, &DataTable::rowActivated, this,
            [this, table](int row) { Q_EMIT showWanted(valveAt(table, row)); });
}

void SideColumn::watchDragging()
{
    m_drag = new RowDrag(m_stopTable->view());
    connect(m_drag, &RowDrag::letGoBetween, this, &SideColumn::moveRow);
}

void SideColumn::moveRow(int row, int before)
{
    if (!m_desk.canChange()) {
        return;
    }
    const QList<int> shown = m_stopTable->shownRows();
    const bool isInOrder = std::ranges::is_sorted(shown) &&
                           shown.size() == static_cast<qsizetype>(m_desk.plan().stops.size());
    if (!isInOrder) {
        Q_EMIT m_session.notifier().failed(
            tr("The list is filtered or sorted by another column, so the order of driving does "
               "not show. Clear the filter, sort by Stop, and drag again."));
        return;
    }
    if (const Status done = m_desk.moveBefore(row, before); !done) {
        Q_EMIT m_session.notifier().failed(done.error().message);
    }
}

ValveId SideColumn::valveAt(const DataTable *table, int row) const
{
    if (table == m_dueTable) {
        return m_due->valveAt(row);
    }
    if (table == m_valveTable) {
        return m_valves->valveAt(row);
    }
    if (table == m_stopTable) {
        return m_stops->valveAt(row);
    }
    return m_leftOut->valveAt(row);
}

int SideColumn::rowOf(const DataTable *table, const ValveId &valve) const
{
    if (table == m_dueTable) {
        return m_due->rowOf(valve);
    }
    if (table == m_valveTable) {
        return m_valves->rowOf(valve);
    }
    if (table == m_stopTable) {
        return m_stops->rowOf(valve);
    }
    return m_leftOut->rowOf(valve);
}

QList<ValveId> SideColumn::chosenIn(const DataTable *table) const
{
    QList<ValveId> valves;
    for (const int row : table->selectedRows()) {
        valves << valveAt(table, row);
    }
    return valves;
}

void SideColumn::showPage(Page page)
{
    m_buttons->button(page)->setChecked(true);
    m_pages->setCurrentIndex(page);
}

void SideColumn::showChosen(const QSet<ValveId> &chosen)
{
    m_chosen = chosen;
    const QScopedValueRollback showing(m_isShowing, true);
    for (DataTable *table : {m_dueTable, m_valveTable, m_stopTable, m_leftOutTable}) {
        const QList<ValveId> there = chosenIn(table);
        QSet<ValveId> wanted;
        for (const ValveId &valve : chosen) {
            if (rowOf(table, valve) >= 0) {
                wanted.insert(valve);
            }
        }
        if (QSet<ValveId>(there.begin(), there.end()) == wanted) {
            continue;
        }
        QList<int> rows;
        for (const ValveId &valve : std::as_const(wanted)) {
            rows << rowOf(table, valve);
        }
        table->selectRows(rows);
    }
    refreshReason();
    refreshButtons();
}

void SideColumn::refresh()
{
    {
        const QScopedValueRollback showing(m_isShowing, true);
        m_stops->setPlan(m_desk.plan(), m_desk.round());
        refreshLeftOut();
    }
    const Policy &policy = m_session.settings().policy;
    m_dueTable->setEmptyText(
        policy.rules.empty()
            ? tr("The policy has no rule, so no valve is due. Open Policy and take a ready pack or "
                 "add a rule.")
            : tr("No valve is due by the policy. Look at all valves to plan a visit by hand."));
    m_buttons->button(DuePage)->setText(tr("Due (%1)").arg(m_due->rowCount()));
    m_buttons->button(ValvesPage)->setText(tr("All valves (%1)").arg(m_valves->rowCount()));
    m_buttons->button(StopsPage)->setText(tr("Stops (%1)").arg(m_desk.round().stops.size()));
    m_buttons->button(LeftOutPage)->setText(tr("Left out (%1)").arg(m_leftOut->rowCount()));
    m_buttons->button(LeftOutPage)->setVisible(m_leftOut->rowCount() > 0);
    if (m_leftOut->rowCount() == 0 && m_pages->currentIndex() == LeftOutPage) {
        showPage(StopsPage);
    }
    showChosen(m_chosen);
}

void SideColumn::refreshLeftOut()
{
    m_leftOut->show(m_desk.leftOut(), m_session);
}

void SideColumn::refreshReason()
{
    const int row = m_chosen.size() == 1 ? rowOf(m_leftOutTable, *m_chosen.cbegin()) : -1;
    m_whyLeftOut->setText(row < 0 ? tr("Choose a valve to read what would let it in.")
                                  : m_leftOut->reasonAt(row));
    if (m_chosen.size() > 1) {
        m_reason->setText(tr("%n valves chosen.", nullptr, static_cast<int>(m_chosen.size())));
        return;
    }
    const DueEntry *due = m_chosen.isEmpty() ? nullptr : m_session.dueEntry(*m_chosen.cbegin());
    m_reason->setText(due != nullptr ? due->reason : tr("Choose a valve to read why it is due."));
}

void SideColumn::refreshButtons()
{
    int addable = 0;
    int droppable = 0;
    for (const ValveId &valve : std::as_const(m_chosen)) {
        ++(m_desk.isStop(valve) ? droppable : addable);
    }
    for (QPushButton *add : std::as_const(m_adds)) {
        add->setEnabled(addable > 0 && m_desk.canChange());
        add->setText(addable > 1 ? tr("Add %1 valves to the round").arg(addable)
                                 : tr("Add to the round"));
    }
    m_drop->setEnabled(droppable > 0 && m_desk.canChange());
    m_drop->setText(droppable > 1 ? tr("Drop %1 stops from the round").arg(droppable)
                                  : tr("Drop from the round"));
}

} // namespace keyround
