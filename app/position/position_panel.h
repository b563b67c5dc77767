// SPDX-License-Identifier: GPL-3.0-or-later
// Where this laptop takes its position from: port and baud of a receiver, a recorded log, the
// system; and, beside it, every sentence that arrives with what became of it. A window of its own,
// beside the work.
#pragma once

#include "app/position/position_habits.h"

#include <QWidget>

class QComboBox;
class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;
class QStackedWidget;

namespace keyround {

class Session;

class PositionPanel final : public QWidget
{
    Q_OBJECT
public:
    explicit PositionPanel(Session &session, QWidget *parent = nullptr);

    /// Opens the panel as a window beside `owner`, or brings the open one to the front.
    static PositionPanel *openBeside(QWidget *owner, Session &session);

private:
    [[nodiscard]] QWidget *buildChoice();
    [[nodiscard]] QWidget *buildReceiverPage();
    [[nodiscard]] QWidget *buildLogPage();
    [[nodiscard]] QWidget *buildHeard();
    void listPorts();
    void showHabits(const PositionHabits &habits);
    /// Starts what is chosen and remembers it; what cannot be is refused beside the field.
    void use();
    void refreshState();
    void refreshHeard();
    void refuse(QLineEdit *line, const QString &why);

    Session &m_session;
    QComboBox *m_source;
    QStackedWidget *m_pages;
    QComboBox *m_port;
    QComboBox *m_baud;
    QLineEdit *m_log;
    QLineEdit *m_speed;
    QLabel *m_refusal;
    QPushButton *m_use;
    QLabel *m_state;
    QLabel *m_counts;
    QListWidget *m_heard;
};

} // namespace keyround
