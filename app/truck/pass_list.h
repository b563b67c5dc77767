// SPDX-License-Identifier: GPL-3.0-or-later
// The passes of a stop, one row each: direction, turns, the time it took, the torque; and a target
// that takes it away.
#pragma once

#include "core/fieldlog/torque.h"

#include <QScrollArea>

class QLabel;
class QVBoxLayout;

namespace keyround {

struct CountedPass;
struct StopForm;

class PassList final : public QScrollArea
{
    Q_OBJECT
public:
    explicit PassList(QWidget *parent = nullptr);

    void show(const StopForm &form, TorqueUnit unit);
    /// Only the row of the pass under count has another number.
    void showLast(const StopForm &form, TorqueUnit unit);

Q_SIGNALS:
    void removeAsked(std::size_t index);

private:
    [[nodiscard]] QWidget *rowFor(const CountedPass &pass, std::size_t index, TorqueUnit unit);
    void clear();

    QWidget *m_inner;
    QVBoxLayout *m_rows;
    QList<QLabel *> m_words;
};

} // namespace keyround
