// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/typed_line.h"

#include "app/dialogs/truck_look.h"
#include "app/truck/turns_line.h"

#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QVBoxLayout>

#include <utility>

namespace keyround {

TypedLine::TypedLine(const QString &fieldName, const QString &question,
                     std::function<QString(const QString &)> fault, QWidget *parent)
    : QWidget(parent), m_edit(new QLineEdit(this)), m_message(truckLabel(this, TextSize::Small)),
      m_question(question), m_fault(std::move(fault))
{
    m_edit->setObjectName(fieldName);
    m_edit->setAccessibleName(question);
    m_edit->installEventFilter(this);
    m_message->setObjectName(fieldName + QStringLiteral("-message"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(TruckScale::of(this).gap);
    layout->addWidget(m_message);
    layout->addWidget(m_edit);
    // Room for the longest refusal, so that the line stays where it is.
    constexpr int lines = 5;
    m_message->setFixedHeight(QFontMetrics(m_message->font()).lineSpacing() * lines);
    showRefusal({});
    connect(m_edit, &QLineEdit::textEdited, this, [this](const QString &text) {
        showRefusal(m_fault(text));
        Q_EMIT edited(text);
    });
}

void TypedLine::setText(const QString &text)
{
    if (m_edit->text() != text) {
        m_edit->setText(text);
    }
    showRefusal(m_fault(text));
}

QString TypedLine::text() const
{
    return m_edit->text();
}

void TypedLine::showRefusal(const QString &why)
{
    setRefused(m_edit, !why.isEmpty());
    setNote(m_message, why.isEmpty() ? NoteKind::Quiet : NoteKind::Danger,
            why.isEmpty() ? m_question : why);
}

bool TypedLine::eventFilter(QObject *watched, QEvent *event)
{
    if (watched == m_edit && event->type() == QEvent::KeyPress) {
        const auto *press = static_cast<QKeyEvent *>(event);
        const int key = press->key();
        if (key == Qt::Key_Return || key == Qt::Key_Enter) {
            if (!press->isAutoRepeat()) {
                Q_EMIT taken();
            }
            return true;
        }
        if (key == Qt::Key_Escape) {
            Q_EMIT dropped();
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

} // namespace keyround
