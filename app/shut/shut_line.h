// SPDX-License-Identifier: GPL-3.0-or-later
// The line over every place while a shut goes on, or a valve stays closed for one: red when valves
// are closed. Hidden when there is nothing to say.
#pragma once

#include "core/common/ids.h"

#include <QWidget>

class QLabel;
class QPushButton;

namespace keyround {

class Session;

class ShutLine final : public QWidget
{
    Q_OBJECT
public:
    explicit ShutLine(Session &session, QWidget *parent = nullptr);
    void refresh();

Q_SIGNALS:
    void shutAsked(const ShutId &shut);

private:
    Session &m_session;
    QLabel *m_label;
    QPushButton *m_go;
    ShutId m_first;
};

} // namespace keyround
