// SPDX-License-Identifier: GPL-3.0-or-later
// Taking a row of a table by hand (mouse or finger) and letting it go between two others, or over
// another widget. While the row is in the hand, a line shows where it would land. The table itself
// moves nothing: it is told, and whoever owns the order decides.
#pragma once

#include <QObject>
#include <QPoint>

class QMouseEvent;
class QRubberBand;
class QTableView;

namespace keyround {

class RowDrag final : public QObject
{
    Q_OBJECT
public:
    explicit RowDrag(QTableView *view);

    bool eventFilter(QObject *watched, QEvent *event) override;

Q_SIGNALS:
    /// Let go above the row that stands at `before` now; the row count: below all. Rows as shown.
    void letGoBetween(int row, int before);
    void heldOver(int row, const QPoint &global); ///< outside the table, while it is in the hand
    void letGoOutside(int row, const QPoint &global);
    void putBack(); ///< Escape

private:
    [[nodiscard]] bool press(const QMouseEvent &mouse);
    void move(const QPoint &at);
    void release(const QPoint &at);
    void stop();
    [[nodiscard]] int rowBelow(const QPoint &at) const;

    QTableView *m_view;
    QRubberBand *m_line;
    int m_row = -1;
    bool m_pressKept =
        false; ///< from the table: the chosen rows stay chosen while they are dragged
    QPoint m_pressedAt;
    bool m_dragging = false;
};

} // namespace keyround
