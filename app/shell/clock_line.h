// SPDX-License-Identifier: GPL-3.0-or-later
// The line that says, on every place, that the laptop's clock is not to be believed. Hidden while
// it is. Looks again when something is recorded, and once a minute.
#pragma once

#include <QLabel>

namespace keyround {

class Session;

class ClockLine final : public QLabel
{
    Q_OBJECT
public:
    explicit ClockLine(Session &session, QWidget *parent = nullptr);

    void refresh();

private:
    Session &m_session;
};

} // namespace keyround
