// SPDX-License-Identifier: GPL-3.0-or-later
// The coming days on one sheet: crews down, days across, each cell with its stops, a small ribbon
// to one common scale, driving and finish. A cell is chosen by click or arrow keys and opened by
// double click or Enter; a stop's block is taken by hand and let go over another day. The sheet
// changes nothing itself.
#pragma once

#include "app/yard/coming_days_desk.h"
#include "app/yard/day_stretches.h"

#include <QWidget>

namespace keyround {

class Session;

class ComingDaysGrid final : public QWidget
{
    Q_OBJECT
public:
    ComingDaysGrid(Session &session, ComingDaysDesk &desk, QWidget *parent = nullptr);

    [[nodiscard]] CellAt chosen() const { return m_chosen; }
    void choose(const CellAt &at);
    [[nodiscard]] QRectF cellBox(const CellAt &at) const;
    /// Where a stop's block is drawn in its cell's ribbon.
    [[nodiscard]] QRectF blockOf(const CellAt &at, int stop) const;
    [[nodiscard]] CellAt cellAt(const QPointF &position) const;
    /// Marks the cell over which something is held that may be let go there; an invalid one: none.
    void setLanding(const CellAt &at);

    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

Q_SIGNALS:
    void cellChosen(const CellAt &at);
    void cellOpened(const CellAt &at);
    void stopMoved(const ValveId &valve, const CellAt &to);

protected:
    bool event(QEvent *event) override;
    void paintEvent(QPaintEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    void mouseMoveEvent(QMouseEvent *event) override;
    void mouseReleaseEvent(QMouseEvent *event) override;
    void mouseDoubleClickEvent(QMouseEvent *event) override;
    void keyPressEvent(QKeyEvent *event) override;
    void focusInEvent(QFocusEvent *event) override;
    void focusOutEvent(QFocusEvent *event) override;

private:
    static constexpr double headWidth = 112;
    static constexpr double headHeight = 34;
    static constexpr double rowHeight = 106;
    static constexpr double leastColumn = 168;

    void deskChanged();
    [[nodiscard]] double columnWidth() const;
    [[nodiscard]] QRectF ribbonBox(const CellAt &at) const;
    [[nodiscard]] double xOf(const QRectF &box, double second) const;
    [[nodiscard]] int stopAt(const CellAt &at, const QPointF &position) const;
    [[nodiscard]] QString wordsFor(const CellAt &at) const;
    void paintHeads(QPainter &painter) const;
    void paintCell(QPainter &painter, const CellAt &at) const;
    void paintRibbon(QPainter &painter, const CellAt &at) const;
    void paintWords(QPainter &painter, const CellAt &at, const QRectF &box) const;

    Session &m_session;
    ComingDaysDesk &m_desk;
    CellAt m_chosen;
    CellAt m_landing;
    double m_begin = 0; ///< seconds of the day, of all ribbons' left and right ends
    double m_end = 1;
    ValveId m_taken; ///< the stop pressed on
    QPointF m_pressedAt;
    QPointF m_dragAt;
    bool m_dragging = false;
};

} // namespace keyround
