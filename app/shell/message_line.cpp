// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shell/message_line.h"

#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QTimer>

namespace keyround {

namespace {

constexpr int fadeMilliseconds = 12000;

} // namespace

MessageLine::MessageLine(QWidget *parent)
    : QFrame(parent), m_label(plainLabel({}, {}, this)),
      m_putAway(new QPushButton(tr("Put away"), this)), m_fade(new QTimer(this))
{
    setObjectName(QStringLiteral("messageLine"));
    m_label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(0, 0, 8, 0);
    layout->addWidget(m_label, 1);
    layout->addWidget(m_putAway);
    m_fade->setSingleShot(true);
    connect(m_fade, &QTimer::timeout, this, &QWidget::hide);
    connect(m_putAway, &QPushButton::clicked, this, &MessageLine::putAway);
    hide();
}

void MessageLine::say(const QString &text)
{
    if (!m_failures.isEmpty()) {
        return; // a failure that nobody has read yet is not covered
    }
    m_label->setText(text);
    restyle(m_label, "role", QStringLiteral("quiet"));
    m_label->setContentsMargins(12, 4, 12, 4);
    m_putAway->hide();
    show();
    m_fade->start(fadeMilliseconds);
}

void MessageLine::fail(const QString &text)
{
    m_failures << text;
    m_fade->stop();
    m_label->setText(
        m_failures.size() == 1
            ? text
            : tr("%1 (and %n more before it)", nullptr, int(m_failures.size()) - 1).arg(text));
    restyle(m_label, "role", QStringLiteral("danger"));
    m_putAway->show();
    show();
}

QString MessageLine::text() const
{
    return m_label->text();
}

void MessageLine::putAway()
{
    m_failures.clear();
    hide();
}

} // namespace keyround
