// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/history_panel.h"

#include "app/dialogs/plain_label.h"
#include "app/office/visit_list.h"
#include "app/shell/session.h"
#include "core/reports/valve_words.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QToolButton>
#include <QVBoxLayout>

namespace keyround {

HistoryPanel::HistoryPanel(Session &session, QWidget *parent)
    : QFrame(parent), m_session(session), m_title(plainLabel({}, QStringLiteral("heading"), this)),
      m_where(plainLabel({}, QStringLiteral("quiet"), this)), m_visits(new VisitList(this))
{
    setProperty("role", QStringLiteral("card"));
    setAccessibleName(tr("Visits of the valve"));
    setMinimumWidth(280);
    m_title->setObjectName(QStringLiteral("historyTitle"));
    auto *close = new QToolButton(this);
    close->setText(QStringLiteral("\u2715"));
    close->setAccessibleName(tr("Close the visits"));
    close->setToolTip(tr("Close"));
    connect(close, &QToolButton::clicked, this, &HistoryPanel::closeWanted);
    auto *head = new QHBoxLayout;
    head->addWidget(m_title, 1);
    head->addWidget(close, 0, Qt::AlignTop);
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(10, 8, 6, 6);
    column->addLayout(head);
    column->addWidget(m_where);
    auto *ways = new QHBoxLayout;
    const auto add = [&](const QString &words, const QString &name, auto signal) {
        auto *button = new QPushButton(words, this);
        button->setProperty("role", QStringLiteral("small"));
        button->setObjectName(name);
        connect(button, &QPushButton::clicked, this, [this, signal] {
            Q_EMIT(this->*signal)(m_valve, m_visit);
        });
        ways->addWidget(button);
    };
    add(tr("Whole life"), QStringLiteral("showLife"), &HistoryPanel::lifeWanted);
    add(tr("Repair request"), QStringLiteral("showRepair"), &HistoryPanel::repairWanted);
    ways->addStretch(1);
    column->addLayout(ways);
    column->addWidget(m_visits, 1);
}

void HistoryPanel::showValve(const ValveId &valve, const VisitId &visit)
{
    m_valve = valve;
    m_visit = visit;
    refresh();
}

void HistoryPanel::refresh()
{
    const Valve *valve = m_session.valve(m_valve);
    if (valve == nullptr) {
        Q_EMIT closeWanted();
        return;
    }
    const UnitSystem units = m_session.units();
    m_title->setText(tr("Valve %1: %2").arg(valve->number, whatWords(*valve, units)));
    m_where->setText(whereWords(*valve, units));
    m_visits->showVisits(m_session, m_valve, m_visit);
}

} // namespace keyround
