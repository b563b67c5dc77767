// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/valve_line.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/turns_line.h"

#include <QHBoxLayout>
#include <QLineEdit>

namespace keyround {

ValveLine::ValveLine(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_edit(new QLineEdit(this)),
      m_record(new BigButton(BigButton::Kind::Plain, tr("Record this valve"), this)),
      m_correct(new BigButton(BigButton::Kind::Plain, tr("Correct a visit"), this)),
      m_find(new BigButton(BigButton::Kind::Plain, tr("Find one"), this)),
      m_message(truckLabel(this, TextSize::Small))
{
    m_edit->setObjectName(QStringLiteral("valve-number"));
    m_edit->setAccessibleName(tr("Valve number"));
    m_record->setObjectName(QStringLiteral("record-by-number"));
    m_correct->setObjectName(QStringLiteral("correct-by-number"));
    m_message->setObjectName(QStringLiteral("valve-refusal"));
    const int gap = TruckScale::of(this).gap;
    auto *row = new QHBoxLayout;
    row->setSpacing(gap);
    auto *words = truckLabel(this);
    words->setWordWrap(false);
    words->setText(tr("Any other valve, by number"));
    words->setBuddy(m_edit);
    row->addWidget(words);
    row->addWidget(m_edit, 2);
    row->addWidget(m_record, 2);
    row->addWidget(m_correct, 2);
    m_find->setObjectName(QStringLiteral("find-a-valve"));
    row->addWidget(m_find, 1);
    connect(m_find, &QAbstractButton::clicked, this, &ValveLine::findAsked);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(gap / 2);
    layout->addLayout(row);
    layout->addWidget(m_message);
    refuse({});
    connect(m_edit, &QLineEdit::textEdited, this, [this] { refuse({}); });
    connect(m_edit, &QLineEdit::returnPressed, this, &ValveLine::askToRecord);
    connect(m_record, &QAbstractButton::clicked, this, &ValveLine::askToRecord);
    connect(m_correct, &QAbstractButton::clicked, this, &ValveLine::askToCorrect);
}

void ValveLine::clear()
{
    m_edit->clear();
    refuse({});
}

const Valve *ValveLine::wanted()
{
    const QString number = m_edit->text().trimmed();
    if (number.isEmpty()) {
        refuse(tr("Type the valve's number first."));
        return nullptr;
    }
    const Valve *valve = m_session.valveByNumber(number);
    if (valve == nullptr) {
        refuse(tr("No valve has the number %1. Numbers are kept letter for letter, leading zeros "
                  "too. A valve that is not in the inventory is added at the yard.")
                   .arg(number));
    } else if (valve->retired) {
        refuse(tr("Valve %1 is retired: it is no longer in the ground.").arg(number));
        return nullptr;
    }
    return valve;
}

void ValveLine::askToRecord()
{
    if (const Valve *valve = wanted()) {
        Q_EMIT recordAsked(valve->id);
    }
}

void ValveLine::askToCorrect()
{
    const Valve *valve = wanted();
    if (valve == nullptr) {
        return;
    }
    if (m_session.history(valve->id).visits.empty()) {
        refuse(
            tr("Valve %1 has no visit on record: there is nothing to correct.").arg(valve->number));
        return;
    }
    Q_EMIT correctAsked(valve->id);
}

void ValveLine::refuse(const QString &why)
{
    setRefused(m_edit, !why.isEmpty());
    setNote(m_message, NoteKind::Danger, why);
}

} // namespace keyround
