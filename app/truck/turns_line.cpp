// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/turns_line.h"

#include "app/dialogs/restyle.h"
#include "app/dialogs/truck_look.h"
#include "core/inventory/value_parsers.h"

#include <QBoxLayout>
#include <QLineEdit>

namespace keyround {

TurnsLine::TurnsLine(const QString &fieldName, const QString &question, QWidget *parent)
    : QWidget(parent), m_edit(new QLineEdit(this)), m_message(truckLabel(this, TextSize::Small)),
      m_question(question)
{
    m_edit->setObjectName(fieldName);
    m_edit->setAccessibleName(question);
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(TruckScale::of(this).gap);
    layout->addWidget(m_edit);
    layout->addWidget(m_message, 1);
    m_edit->setFixedWidth(TruckScale::of(this).target * 2);
    showRefusal({});
    connect(m_edit, &QLineEdit::textEdited, this, [this](const QString &text) {
        check();
        Q_EMIT edited(text);
    });
}

void TurnsLine::setText(const QString &text)
{
    if (m_edit->text() != text) {
        m_edit->setText(text);
    }
    check();
}

QString TurnsLine::text() const
{
    return m_edit->text();
}

Result<std::optional<QuarterTurns>> TurnsLine::read() const
{
    return parseTurns(m_edit->text());
}

bool TurnsLine::isRefused() const
{
    return m_edit->property("refused").toBool();
}

void TurnsLine::showRefusal(const QString &why)
{
    setRefused(m_edit, !why.isEmpty());
    setNote(m_message, why.isEmpty() ? NoteKind::Quiet : NoteKind::Danger,
            why.isEmpty() ? m_question : why);
}

void TurnsLine::check()
{
    const auto turns = read();
    showRefusal(turns ? QString() : turns.error().message);
}

void setRefused(QLineEdit *edit, bool refused)
{
    if (edit->property("refused").toBool() != refused) {
        restyle(edit, "refused", refused);
    }
}

} // namespace keyround
