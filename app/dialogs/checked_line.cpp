// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/checked_line.h"

#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"

#include <QKeyEvent>
#include <QLineEdit>
#include <QVBoxLayout>

namespace keyround {

CheckedLine::CheckedLine(const QString &name, Take take, QWidget *parent)
    : QWidget(parent), m_take(std::move(take)), m_line(new QLineEdit(this)),
      m_message(plainLabel({}, QStringLiteral("refusal"), this))
{
    m_line->setAccessibleName(name);
    m_line->installEventFilter(this);
    setFocusProxy(m_line);
    m_message->setAlignment(Qt::AlignLeft | Qt::AlignTop);
    m_message->hide();
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(2);
    layout->addWidget(m_line);
    layout->addWidget(m_message);
    connect(m_line, &QLineEdit::editingFinished, this, [this] { commit(); });
}

void CheckedLine::setStored(const QString &text)
{
    const bool isBeingTyped = m_line->text() != m_stored && (m_line->hasFocus() || isRefused());
    if (isBeingTyped) {
        m_stored = text;
    } else {
        reset(text);
    }
}

void CheckedLine::reset(const QString &text)
{
    m_stored = text;
    if (m_line->text() != text) {
        m_line->setText(text);
        m_line->setCursorPosition(0);
    }
    showRefusal({});
}

bool CheckedLine::isRefused() const
{
    return m_line->property("refused").toBool();
}

bool CheckedLine::commit()
{
    const QString typed = m_line->text();
    if (typed == m_stored) {
        showRefusal({});
        return true;
    }
    const Status taken = m_take(typed);
    if (!taken) {
        showRefusal(taken.error().message);
        return false;
    }
    // The owner has stored it and told setStored(); show it as it was understood.
    reset(m_stored);
    return true;
}

bool CheckedLine::eventFilter(QObject *watched, QEvent *event)
{
    if (watched == m_line && event->type() == QEvent::KeyPress &&
        static_cast<QKeyEvent *>(event)->key() == Qt::Key_Escape && m_line->text() != m_stored) {
        m_line->setText(m_stored);
        showRefusal({});
        return true;
    }
    return QWidget::eventFilter(watched, event);
}

void CheckedLine::showRefusal(const QString &message)
{
    const bool refused = !message.isEmpty();
    const QString before = m_line->accessibleDescription();
    m_line->setAccessibleDescription(message);
    if (m_elsewhere == nullptr) {
        m_message->setText(message);
        m_message->setVisible(refused);
    } else if (refused || m_elsewhere->text() == before) {
        m_elsewhere->setText(message);
        m_elsewhere->setVisible(refused);
    }
    if (isRefused() != refused) {
        restyle(m_line, "refused", refused);
    }
}

} // namespace keyround
