// SPDX-License-Identifier: GPL-3.0-or-later
// The round as plain lines to read over the radio, in a window beside the work: to read from, to
// copy, to save as text.
#pragma once

#include <QWidget>

class QPlainTextEdit;

namespace keyround {

class RoundDesk;
class Session;

class RadioWindow final : public QWidget
{
    Q_OBJECT
public:
    RadioWindow(Session &session, RoundDesk &desk, QWidget *owner);

    /// Opens the window beside the owner, or brings the open one to the front.
    static void openBeside(QWidget *owner, Session &session, RoundDesk &desk);

private:
    void refresh();
    void save();

    Session &m_session;
    RoundDesk &m_desk;
    QPlainTextEdit *m_lines;
};

} // namespace keyround
