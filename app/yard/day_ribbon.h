// SPDX-License-Identifier: GPL-3.0-or-later
// The day as a ribbon to scale: driving, set-up, turning, waiting, breaks, the shift's end and what
// runs past it. Stops are numbered blocks; a pin stands over one that is kept first or last, a mark
// over what must go, a clasp under stops that are held together. A block is moved by dragging it
// (with those it is held to), or by Alt+Left and Alt+Right; Left and Right choose the next one,
// Delete drops the chosen one. The ribbon changes nothing itself: it says what is wanted.
#pragma once

#include "app/yard/day_stretches.h"
#include "core/dayplan/plan.h"

#include <QSet>
#include <QWidget>

namespace keyround {

class DayRibbon final : public QWidget
{
    Q_OBJECT
public:
    explicit DayRibbon(QWidget *parent = nullptr);

    struct Content
    {
        DayPlan plan;
        Round round;        ///< whose shift and marks are shown; its stops are those of the plan
        QStringList labels; ///< the valve numbers, one a stop
        std::vector<double> setUpMinutes; ///< of each stop; the rest of it is turning
        QSet<ValveId> done;
        bool canChange = false;
        QString onlyLooking; ///< said over a plan that is looked at and not on the desk
    };
    void setContent(Content content);
    void setChosen(const ValveId &valve);

    [[nodiscard]] int chosenStop() const { return m_chosen; }
    /// Where a stop's block is drawn.
    [[nodiscard]] QRectF blockOf(int stop) const;
    [[nodiscard]] const std::vector<RibbonStretch> &stretches() const { return m_stretches; }

    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

Q_SIGNALS:
    void stopChosen(const ValveId &valve);
    void stopMoved(int from, int to);
    void stopDropped(const ValveId &valve);

protected:
    bool event(QEvent *event) override;
    void paintEvent(QPaintEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    void mouseMoveEvent(QMouseEvent *event) override;
    void mouseReleaseEvent(QMouseEvent *event) override;
    void keyPressEvent(QKeyEvent *event) override;
    void focusInEvent(QFocusEvent *event) override;

private:
    static constexpr double bandTop = 34.0; ///< below the hours' words and the marks
    static constexpr double bandHeight = 46.0;
    static constexpr double wholeHeight = 114.0;
    static constexpr double secondsInHour = 3600.0;

    void cut();
    void chooseStop(int stop);
    [[nodiscard]] double xOf(double second) const;
    [[nodiscard]] int stopAt(const QPointF &position) const;
    /// The number that the dragged stop would get if it were let go at x.
    [[nodiscard]] int landingAt(double x) const;
    [[nodiscard]] QString wordsFor(int stop) const;
    void paintHours(QPainter &painter) const;
    void paintStretch(QPainter &painter, const RibbonStretch &stretch) const;
    void paintBlock(QPainter &painter, int stop) const;
    void paintShiftEnd(QPainter &painter) const;
    void paintDrag(QPainter &painter) const;
    void paintMarks(QPainter &painter, int stop) const;
    void paintClasps(QPainter &painter) const;
    void paintKey(QPainter &painter) const;

    Content m_content;
    std::vector<RibbonStretch> m_stretches;
    double m_begin = 0; ///< seconds from midnight at the left edge
    double m_end = 1;
    int m_chosen = -1;
    int m_pressed = -1;
    QPointF m_pressedAt;
    QPointF m_dragAt;
    bool m_dragging = false;
};

} // namespace keyround
