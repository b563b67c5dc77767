// SPDX-License-Identifier: GPL-3.0-or-later
// The day as a ribbon to scale: drive, set-up, turning, wait, the shift's end and what runs past
// it. Stops are numbered blocks. A block is moved by dragging it, or by Alt+Left and Alt+Right;
// Left and Right choose the next one, Delete drops the chosen one. The ribbon changes nothing
// itself: it says what is wanted.
#pragma once

#include "core/dayplan/plan.h"

#include <QSet>
#include <QWidget>

namespace keyround {

/// A day in seconds from midnight, cut into stretches: what the ribbon paints.
struct RibbonStretch
{
    enum class Kind { Drive, Wait, SetUp, Turning };
    Kind kind = Kind::Drive;
    double from = 0;
    double to = 0;
    int stop = -1; ///< index of the stop that it belongs to or leads to; -1: the way back
};

class DayRibbon final : public QWidget
{
    Q_OBJECT
public:
    explicit DayRibbon(QWidget *parent = nullptr);

    struct Content
    {
        DayPlan plan;
        Shift shift;
        QStringList labels;               ///< the valve numbers, one a stop
        std::vector<double> setUpMinutes; ///< of each stop; the rest of it is turning
        QSet<ValveId> done;
        bool canChange = false;
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
    static constexpr double bandTop = 22.0; ///< below the hours' words
    static constexpr double bandHeight = 46.0;
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
