// SPDX-License-Identifier: GPL-3.0-or-later
// One line that always says where the position comes from, how good it is and how old, with a mark
// whose shape tells the state: full disc current, half disc old, ring with a bar lost, empty ring
// waiting. Pressing it opens what the position is taken from.
#pragma once

#include "core/fieldlog/fix.h"

#include <QAbstractButton>

class QPainter;

namespace keyround {

class Session;

class PositionLine final : public QAbstractButton
{
    Q_OBJECT
public:
    explicit PositionLine(Session &session, QWidget *parent = nullptr);

    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent *event) override;

private:
    void refresh();

    Session &m_session;
    FixState m_state = FixState::NoReceiver;
};

/// The mark alone, drawn about a place.
void drawFixMark(QPainter &painter, FixState state, const QPointF &centre, double radius);

} // namespace keyround
