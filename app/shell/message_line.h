// SPDX-License-Identifier: GPL-3.0-or-later
// The line at the foot of the window that says what happened. What was said fades after a while;
// what failed stays until it is put away. Never a dialog: nothing may stand before the work.
#pragma once

#include <QFrame>
#include <QStringList>

class QLabel;
class QPushButton;
class QTimer;

namespace keyround {

class MessageLine final : public QFrame
{
    Q_OBJECT
public:
    explicit MessageLine(QWidget *parent = nullptr);

    void say(const QString &text);
    void fail(const QString &text);
    [[nodiscard]] QString text() const;

private:
    void putAway();

    QLabel *m_label;
    QPushButton *m_putAway;
    QTimer *m_fade;
    QStringList m_failures; ///< not yet put away, oldest first
};

} // namespace keyround
