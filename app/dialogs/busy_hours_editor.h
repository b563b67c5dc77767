// SPDX-License-Identifier: GPL-3.0-or-later
// When no work is done: the shift's breaks, and the busy hours of streets.
#pragma once

#include <QWidget>

namespace keyround {

class ListEditor;
class Session;

class BusyHoursEditor final : public QWidget
{
    Q_OBJECT
public:
    explicit BusyHoursEditor(Session &session, QWidget *parent = nullptr);
    [[nodiscard]] ListEditor *breaks() const { return m_breaks; }
    [[nodiscard]] ListEditor *hours() const { return m_hours; }

private:
    ListEditor *m_hours;
    ListEditor *m_breaks;
};

} // namespace keyround
