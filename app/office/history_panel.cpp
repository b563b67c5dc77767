// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/history_panel.h"

#include "app/dialogs/plain_label.h"
#include "app/dialogs/valve_record.h"
#include "app/shell/session.h"
#include "core/reports/valve_words.h"

#include <QHBoxLayout>
#include <QScrollArea>
#include <QScrollBar>
#include <QTimer>
#include <QToolButton>
#include <QVBoxLayout>

namespace keyround {

namespace {

QFrame *entryFrame(const RecordEntry &entry, bool showedIt, QWidget *parent)
{
    auto *frame = new QFrame(parent);
    auto *column = new QVBoxLayout(frame);
    column->setContentsMargins(10, 6, 8, 6);
    column->setSpacing(2);
    if (showedIt) {
        frame->setObjectName(QStringLiteral("showedIt"));
        frame->setProperty("role", QStringLiteral("marked"));
        column->addWidget(
            plainLabel(HistoryPanel::tr("This visit showed it"), QStringLiteral("entry"), frame));
    }
    column->addWidget(plainLabel(entry.heading, QStringLiteral("entry"), frame));
    for (const QString &line : entry.lines) {
        column->addWidget(plainLabel(line, {}, frame));
    }
    return frame;
}

} // namespace

HistoryPanel::HistoryPanel(Session &session, QWidget *parent)
    : QFrame(parent), m_session(session), m_title(plainLabel({}, QStringLiteral("heading"), this)),
      m_where(plainLabel({}, QStringLiteral("quiet"), this)), m_scroll(new QScrollArea(this))
{
    setProperty("role", QStringLiteral("card"));
    setAccessibleName(tr("Visits of the valve"));
    setMinimumWidth(280);
    m_title->setObjectName(QStringLiteral("historyTitle"));
    m_scroll->setWidgetResizable(true);
    m_scroll->setFrameShape(QFrame::NoFrame);
    m_scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
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
    column->addWidget(m_scroll, 1);
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
    auto *content = new QWidget;
    auto *column = new QVBoxLayout(content);
    column->setContentsMargins(0, 0, 6, 0);
    const ValveHistory &history = m_session.history(m_valve);
    const std::vector<RecordEntry> entries = visitEntries(history); // newest first
    QWidget *marked = nullptr;
    for (size_t i = 0; i < entries.size(); ++i) {
        const Visit &visit = history.visits[history.visits.size() - 1 - i].visit;
        const bool showedIt = visit.id == m_visit && !m_visit.isNull();
        QFrame *frame = entryFrame(entries[i], showedIt, content);
        column->addWidget(frame);
        marked = showedIt ? frame : marked;
    }
    if (entries.empty()) {
        column->addWidget(plainLabel(
            tr("No visit is on record. Put the valve on a round in the Yard, or bring in past "
               "visits."),
            QStringLiteral("quiet"), content));
    }
    column->addStretch(1);
    m_scroll->setWidget(content);
    if (marked != nullptr) {
        // Its place is known only after the layout has run.
        QTimer::singleShot(0, content, [this, marked] {
            m_scroll->verticalScrollBar()->setValue(marked->y() - 4);
        });
    }
}

} // namespace keyround
