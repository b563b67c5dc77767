// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/visit_list_page.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/button_list.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/stop_words.h"
#include "core/reports/valve_words.h"

#include <QKeyEvent>
#include <QVBoxLayout>

namespace keyround {

namespace {

QString headingOf(const ReadVisit &read)
{
    const Visit &visit = read.visit;
    QString words = QStringLiteral("%1: %2").arg(
        visit.arrived.local().toString(QStringLiteral("yyyy-MM-dd HH:mm")), wordFor(read.after));
    if (!visit.passes.empty()) {
        words += QStringLiteral(", ") + passWords(visit.passes);
    }
    return words;
}

QString detailOf(const ReadVisit &read)
{
    const Visit &visit = read.visit;
    QStringList words{
        QObject::tr("found %1, left %2").arg(standingSaid(visit.found), standingSaid(visit.left))};
    if (hasProblems(visit)) {
        words << problemWords(visit);
    }
    words << QObject::tr("%1, recorded by %2").arg(visit.crew, visit.recordedBy);
    if (!visit.supersedes.isNull()) {
        words << QObject::tr("corrected: %1").arg(visit.reason);
    }
    return words.join(QStringLiteral(" · "));
}

} // namespace

VisitListPage::VisitListPage(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_title(truckLabel(this, TextSize::Title, true)),
      m_note(truckLabel(this)), m_list(new ButtonList(this)),
      m_back(new BigButton(BigButton::Kind::Plain, tr("Back"), this))
{
    const int gap = TruckScale::of(this).gap;
    m_title->setObjectName(QStringLiteral("visits-title"));
    m_note->setObjectName(QStringLiteral("visits-note"));
    m_back->setObjectName(QStringLiteral("visits-back"));
    m_back->setHint(tr("Esc"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap * 2, gap, gap * 2, gap);
    layout->setSpacing(gap);
    layout->addWidget(m_title);
    layout->addWidget(m_note);
    layout->addWidget(m_list, 1);
    layout->addWidget(m_back);
    connect(m_back, &QAbstractButton::clicked, this, &VisitListPage::backAsked);
}

void VisitListPage::load(const ValveId &id)
{
    m_valve = id;
    m_list->clear();
    const Valve *valve = m_session.valve(id);
    if (valve == nullptr) {
        return;
    }
    m_title->setText(tr("What is on record: %1").arg(titleOf(*valve, m_session.units())));
    const std::vector<ReadVisit> visits = m_session.history(id).visits;
    m_note->setText(visits.empty() ? tr("No visit yet. The first one is recorded from its stop, "
                                        "or by its number.")
                                   : tr("Choose the visit that is wrong. The old record is kept "
                                        "beside the new one, with the reason."));
    for (auto it = visits.rbegin(); it != visits.rend(); ++it) {
        auto *row = m_list->addRow(headingOf(*it), detailOf(*it));
        row->setObjectName(QStringLiteral("visit-%1").arg(m_list->rows().size()));
        connect(row, &QAbstractButton::clicked, this,
                [this, read = *it] { Q_EMIT correctAsked(read); });
    }
}

void VisitListPage::focusField()
{
    if (m_list->rows().isEmpty()) {
        m_back->setFocus();
    } else {
        m_list->focusRow(0);
    }
}

void VisitListPage::keyPressEvent(QKeyEvent *event)
{
    if (event->key() == Qt::Key_Escape && !event->isAutoRepeat()) {
        Q_EMIT backAsked();
        return;
    }
    QWidget::keyPressEvent(event);
}

} // namespace keyround
