// SPDX-License-Identifier: GPL-3.0-or-later
// The valves of a shut as large rows: sign, number in the order, how far it has come and by whom,
// why, and what happens if it does not hold. Tapping a row makes it the one that is acted on.
#pragma once

#include "app/shut/shut_desk.h"

#include <QWidget>

class QLabel;
class QVBoxLayout;

namespace keyround {

class BigButton;

class StepList final : public QWidget
{
    Q_OBJECT
public:
    explicit StepList(Session &session, QWidget *parent = nullptr);

    /// The rows of closing, under a heading for each part; or those of reopening.
    void showClosing(const std::vector<ShutRow> &rows);
    void showReopening(const std::vector<ShutRow> &stillClosed, const std::vector<ShutRow> &all);
    void mark(const ValveId &valve);
    [[nodiscard]] QWidget *rowOf(const ValveId &valve) const;

Q_SIGNALS:
    void chosen(const ValveId &valve);

private:
    void clear();
    void addHeading(const QString &text);
    void addRow(const ShutRow &row);
    void addWords(const QString &text, bool caution);

    Session &m_session;
    QVBoxLayout *m_layout;
    QList<QWidget *> m_parts;
    QHash<ValveId, BigButton *> m_rows;
    ValveId m_marked;
};

} // namespace keyround
