// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/visit_list.h"

#include "app/dialogs/plain_label.h"
#include "app/dialogs/valve_record.h"
#include "app/shell/session.h"

#include <QScrollBar>
#include <QTimer>
#include <QVBoxLayout>

namespace keyround {

namespace {

QFrame *entryFrame(const RecordEntry &entry, bool isMarked, QWidget *parent)
{
    auto *frame = new QFrame(parent);
    auto *column = new QVBoxLayout(frame);
    column->setContentsMargins(10, 6, 8, 6);
    column->setSpacing(2);
    if (isMarked) {
        frame->setObjectName(QStringLiteral("showedIt"));
        frame->setProperty("role", QStringLiteral("marked"));
        column->addWidget(
            plainLabel(VisitList::tr("This visit showed it"), QStringLiteral("entry"), frame));
    }
    column->addWidget(plainLabel(entry.heading, QStringLiteral("entry"), frame));
    for (const QString &line : entry.lines) {
        column->addWidget(plainLabel(line, {}, frame));
    }
    return frame;
}

/// The day on which the life that begins with this visit replaced another; null: none does.
QDate replacedBefore(const ValveHistory &history, size_t visit)
{
    for (const ValveLife &life : history.lives) {
        if (life.began.isValid() && life.firstVisit == visit) {
            return life.began;
        }
    }
    return {};
}

} // namespace

VisitList::VisitList(QWidget *parent) : QScrollArea(parent)
{
    setWidgetResizable(true);
    setFrameShape(QFrame::NoFrame);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setAccessibleName(tr("Visits of the valve"));
}

void VisitList::showVisits(Session &session, const ValveId &valve, const VisitId &marked)
{
    auto *content = new QWidget;
    auto *column = new QVBoxLayout(content);
    column->setContentsMargins(0, 0, 6, 0);
    const ValveHistory &history = session.history(valve);
    const std::vector<RecordEntry> entries = visitEntries(history); // newest first
    QWidget *shown = nullptr;
    if (const QDate replaced = replacedBefore(history, history.visits.size()); replaced.isValid()) {
        column->addWidget(plainLabel(tr("Replaced on %1; the new valve was not visited yet.")
                                         .arg(replaced.toString(Qt::ISODate)),
                                     QStringLiteral("entry"), content));
    }
    for (size_t i = 0; i < entries.size(); ++i) {
        const size_t index = history.visits.size() - 1 - i;
        const Visit &visit = history.visits[index].visit;
        const bool isMarked = visit.id == marked && !marked.isNull();
        QFrame *frame = entryFrame(entries[i], isMarked, content);
        column->addWidget(frame);
        shown = isMarked ? frame : shown;
        if (const QDate replaced = replacedBefore(history, index); replaced.isValid()) {
            column->addWidget(
                plainLabel(tr("Replaced on %1: above, the new valve; below, the old one.")
                               .arg(replaced.toString(Qt::ISODate)),
                           QStringLiteral("entry"), content));
        }
    }
    if (entries.empty()) {
        column->addWidget(plainLabel(
            tr("No visit is on record. Put the valve on a round in the Yard, or bring in past "
               "visits."),
            QStringLiteral("quiet"), content));
    }
    column->addStretch(1);
    setWidget(content);
    if (shown != nullptr) {
        // Its place is known only after the layout has run.
        QTimer::singleShot(0, content,
                           [this, shown] { verticalScrollBar()->setValue(shown->y() - 4); });
    }
}

} // namespace keyround
