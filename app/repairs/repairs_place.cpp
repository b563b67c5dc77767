// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/repairs/repairs_place.h"

#include "app/commands/repair_commands.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/dialogs/settings_panel.h"
#include "app/models/data_table.h"
#include "app/repairs/repair_models.h"
#include "app/repairs/request_card.h"

#include <QCheckBox>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalBlocker>
#include <QTabWidget>
#include <QTableView>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

RepairsPlace::RepairsPlace(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_backlog(new RequestModel(session, this)),
      m_proposals(new ProposalModel(session, this)),
      m_sent(new TextModel(
          {tr("Sent on"), tr("Request"), tr("Valve"), tr("To"), tr("As"), tr("By")}, {}, this)),
      m_answers(new TextModel(
          {tr("Row"), tr("Request"), tr("What becomes of it"), tr("How"), tr("By"), tr("Work")},
          {0}, this)),
      m_sentence(plainLabel({}, QStringLiteral("heading"), this)), m_tabs(new QTabWidget(this)),
      m_backlogTable(new DataTable(QStringLiteral("repairs"), this)),
      m_proposalTable(new DataTable(QStringLiteral("repairs-proposed"), this)),
      m_sentTable(new DataTable(QStringLiteral("repairs-sent"), this)),
      m_answerTable(new DataTable(QStringLiteral("repairs-answers"), this)),
      m_card(new RequestCard(session, *m_proposals, this))
{
    setObjectName(QStringLiteral("repairsPlace"));
    m_sentTable->setModel(m_sent);
    m_sentTable->setDefaultWidths({100, 140, 110, 220, 220, 130});
    m_sentTable->setEmptyText(tr("Nothing was sent yet. Choose requests in the backlog and send "
                                 "them as sheets or as a table."));
    m_tabs->addTab(buildBacklog(), tr("Backlog"));
    m_tabs->addTab(buildProposals(), tr("To decide"));
    m_tabs->addTab(m_sentTable, tr("Sent"));
    m_tabs->addTab(buildAnswers(), tr("Answers"));
    m_tabs->setDocumentMode(true);

    auto *splitter = new QSplitter(Qt::Horizontal, this);
    splitter->addWidget(m_tabs);
    splitter->addWidget(m_card);
    splitter->setChildrenCollapsible(false);
    splitter->setSizes({940, 400});
    splitter->setStretchFactor(0, 1);
    rememberSplitter(splitter, QStringLiteral("repairs-split"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(12, 10, 12, 10);
    layout->addWidget(buildHead());
    layout->addWidget(splitter, 1);

    connect(m_card, &RequestCard::valveAsked, this, &RepairsPlace::valveAsked);
    Notifier &notifier = session.notifier();
    for (const auto change :
         {&Notifier::projectChanged, &Notifier::repairsChanged, &Notifier::visitsChanged,
          &Notifier::valvesChanged, &Notifier::shutsChanged, &Notifier::settingsChanged,
          &Notifier::layersChanged, &Notifier::networkFixesChanged}) {
        connect(&notifier, change, this, &RepairsPlace::markStale);
    }
    connect(&notifier, &Notifier::projectChanged, this, [this] {
        m_card->showRequest({});
        m_plan = {};
        m_answerFile.clear();
    });
}

QWidget *RepairsPlace::buildHead()
{
    auto *head = new QWidget(this);
    m_sentence->setObjectName(QStringLiteral("repairsSentence"));
    auto *undo = new QPushButton(tr("Undo"), head);
    undo->setObjectName(QStringLiteral("repairsUndo"));
    QUndoStack &stack = m_session.undoStack();
    connect(undo, &QPushButton::clicked, &stack, &QUndoStack::undo);
    const auto refresh = [undo, &stack] {
        undo->setEnabled(stack.canUndo());
        undo->setToolTip(plainToolTip(stack.canUndo() ? tr("Undo: %1").arg(stack.undoText())
                                                      : tr("Nothing to undo")));
    };
    connect(&stack, &QUndoStack::indexChanged, undo, refresh);
    refresh();
    auto *row = new QHBoxLayout(head);
    row->setContentsMargins(0, 0, 0, 0);
    auto *table = new QPushButton(tr("Departments..."), head);
    table->setObjectName(QStringLiteral("repairsDepartments"));
    table->setToolTip(
        tr("Which findings go to whom, how urgent they are, how many days there are"));
    connect(table, &QPushButton::clicked, this,
            [this] { SettingsPanel::openBeside(this, m_session, SettingsPanel::RepairsPage); });
    row->addWidget(m_sentence, 1);
    row->addWidget(table);
    row->addWidget(undo);
    return head;
}

QWidget *RepairsPlace::buildBacklog()
{
    m_backlogTable->setObjectName(QStringLiteral("repairsBacklog"));
    m_backlogTable->setModel(m_backlog);
    m_backlogTable->setDefaultWidths({135, 75, 160, 115, 85, 135, 90, 95, 85, 200});
    m_backlogTable->setEmptyText(tr("No request is open. What visits and shuts show stands under "
                                    "\"To decide\": open requests for it there."));
    m_withClosed = new QCheckBox(tr("Closed ones too"), this);
    m_withClosed->setObjectName(QStringLiteral("repairsClosed"));
    m_backlogTable->addTool(m_withClosed);
    connect(m_withClosed, &QCheckBox::toggled, this, &RepairsPlace::reload);
    connect(m_backlogTable, &DataTable::selectionChanged, this, [this] {
        const QList<int> rows = m_backlogTable->selectedRows();
        if (!rows.isEmpty()) {
            m_card->showRequest(m_backlog->requestAt(rows.front()));
        }
        refreshSend();
    });
    auto *page = new QWidget(this);
    auto *column = new QVBoxLayout(page);
    column->setContentsMargins(0, 6, 0, 0);
    column->addWidget(m_backlogTable, 1);
    column->addWidget(buildSendBar());
    return page;
}

QWidget *RepairsPlace::buildProposals()
{
    m_proposalTable->setObjectName(QStringLiteral("repairsProposed"));
    m_proposalTable->setModel(m_proposals);
    m_proposalTable->setDefaultWidths({90, 160, 130, 135, 80, 400});
    m_proposalTable->setEmptyText(tr("Nothing waits for a decision: every finding has its request, "
                                     "and no repair waits for its proof."));
    m_take = new QPushButton(this);
    m_take->setObjectName(QStringLiteral("repairsTake"));
    m_take->setProperty("role", QStringLiteral("primary"));
    connect(m_take, &QPushButton::clicked, this, &RepairsPlace::takeProposals);
    const auto refresh = [this] {
        const auto chosen = m_proposalTable->selectedRows().size();
        m_take->setText(
            chosen > 0
                ? tr("Yes to the chosen (%1)").arg(chosen)
                : tr("Yes to all that are shown (%1)").arg(m_proposalTable->shownRows().size()));
        m_take->setEnabled(!m_proposalTable->shownRows().isEmpty());
    };
    connect(m_proposalTable, &DataTable::selectionChanged, m_take, [this, refresh] {
        refresh();
        const QList<int> rows = m_proposalTable->selectedRows();
        if (rows.size() == 1) {
            m_card->showRequest(
                m_proposals->proposals()[static_cast<std::size_t>(rows.front())].request);
        }
    });
    connect(m_proposals, &QAbstractItemModel::modelReset, m_take, refresh, Qt::QueuedConnection);
    connect(m_proposalTable->filterLine(), &QLineEdit::textChanged, m_take, refresh,
            Qt::QueuedConnection);
    auto *page = new QWidget(this);
    auto *column = new QVBoxLayout(page);
    column->setContentsMargins(0, 6, 0, 0);
    column->addWidget(plainLabel(tr("What visits and shuts show. Nothing is asked for, and nothing "
                                    "closes, before somebody says yes."),
                                 QStringLiteral("quiet"), page));
    column->addWidget(m_proposalTable, 1);
    column->addWidget(m_take, 0, Qt::AlignRight);
    return page;
}

void RepairsPlace::markStale()
{
    m_isStale = true;
    if (isVisible()) {
        reload();
    }
}

void RepairsPlace::showEvent(QShowEvent *event)
{
    QWidget::showEvent(event);
    if (m_isStale) {
        reload();
    }
}

void RepairsPlace::reload()
{
    m_isStale = false;
    const RequestId chosen = m_card->request();
    m_backlog->reload(m_withClosed->isChecked());
    m_proposals->reload();
    m_sent->setRows(sentRows(m_session));
    if (const int row = m_backlog->rowOf(chosen); row >= 0) {
        const QSignalBlocker quiet(m_backlogTable); // the card is shown once, below
        m_backlogTable->selectRow(row);
    }
    m_card->showRequest(chosen);
    if (!m_answerFile.isEmpty()) {
        lookAtAnswers(); // what they would do may have changed
    }
    showCounts();
    refreshSend();
}

void RepairsPlace::showCounts()
{
    const auto proposed = m_proposals->proposals().size();
    QString words = tr("Repairs: %1.").arg(wordsFor(m_backlog->counts()));
    if (proposed > 0) {
        words += tr(" %1 to decide.").arg(proposed);
    }
    m_sentence->setText(words);
    m_tabs->setTabText(0, tr("Backlog (%1)").arg(m_backlog->rowCount()));
    m_tabs->setTabText(1, tr("To decide (%1)").arg(proposed));
    m_tabs->setTabText(2, tr("Sent (%1)").arg(m_sent->rowCount()));
}

void RepairsPlace::takeProposals()
{
    QList<int> rows = m_proposalTable->selectedRows();
    if (rows.isEmpty()) {
        rows = m_proposalTable->shownRows();
    }
    std::vector<RepairProposal> chosen;
    for (const int row : rows) {
        chosen.push_back(m_proposals->proposals()[static_cast<std::size_t>(row)]);
    }
    if (const auto taken = acceptProposals(m_session, chosen); !taken) {
        Q_EMIT m_session.notifier().failed(taken.error().message);
    } else {
        Q_EMIT m_session.notifier().said(tr("%1 written down").arg(*taken));
    }
}

void RepairsPlace::showValve(const ValveId &valve)
{
    const std::vector<const RepairRequest *> open = m_session.repairs().openOf(valve);
    if (!open.empty()) {
        m_tabs->setCurrentIndex(0);
        m_card->showRequest(open.front()->id);
        m_backlogTable->selectRow(m_backlog->rowOf(open.front()->id));
        return;
    }
    const std::vector<RepairProposal> &all = m_proposals->proposals();
    const auto found = std::ranges::find(all, valve, &RepairProposal::valve);
    m_tabs->setCurrentIndex(found == all.end() ? 0 : 1);
    if (found != all.end()) {
        m_proposalTable->selectRow(static_cast<int>(found - all.begin()));
        return;
    }
    if (const Valve *known = m_session.valve(valve)) {
        Q_EMIT m_session.notifier().said(
            tr("Valve %1 has no open request, and its visits show nothing to repair.")
                .arg(known->number));
    }
}

void RepairsPlace::focusField()
{
    const bool toDecide = m_backlog->rowCount() == 0 && m_proposals->rowCount() > 0;
    if (toDecide && m_tabs->currentIndex() == 0) {
        m_tabs->setCurrentIndex(1);
    }
    (m_tabs->currentIndex() == 1 ? m_proposalTable : m_backlogTable)->view()->setFocus();
}

} // namespace keyround
