// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/day_stretches.h"

#include "app/shell/session.h"
#include "app/shell/style.h"

#include <QObject>
#include <QPainter>

#include <algorithm>

namespace keyround {

namespace {

using Kind = RibbonStretch::Kind;
constexpr double leastWait = 30.0; // seconds; less is rounding

/// The stretches between the place before and a stop (or the finish): breaks, waiting, driving.
class DayCutter
{
public:
    DayCutter(const DayPlan &plan, double begin) : m_plan(plan), m_clock(begin) {}

    void driveTo(int stop, double arrive, double driveSeconds)
    {
        const int before = stop >= 0 ? stop - 1 : static_cast<int>(m_plan.stops.size()) - 1;
        for (const PlannedBreak &each : m_plan.breaks) {
            if (each.afterStop == before) {
                waitUntil(secondOf(each.from), -1);
                add(Kind::Break, m_clock + each.minutes * 60.0, -1);
            }
        }
        waitUntil(arrive - driveSeconds, stop);
        add(Kind::Drive, std::max(m_clock, arrive), stop);
    }
    void work(int stop, double setUpMinutes)
    {
        const PlannedStop &planned = m_plan.stops[static_cast<size_t>(stop)];
        waitUntil(beginOfWork(planned), stop);
        const double end = endOfWork(planned);
        add(Kind::SetUp, std::min(m_clock + setUpMinutes * 60.0, end), stop);
        add(Kind::Turning, end, stop);
    }
    [[nodiscard]] double clock() const { return m_clock; }
    [[nodiscard]] std::vector<RibbonStretch> take() { return std::move(m_stretches); }

private:
    void waitUntil(double second, int stop)
    {
        if (second - m_clock >= leastWait) {
            add(Kind::Wait, second, stop);
        }
    }
    void add(Kind kind, double to, int stop)
    {
        if (to > m_clock) {
            m_stretches.push_back({kind, m_clock, to, stop});
            m_clock = to;
        }
    }

    const DayPlan &m_plan;
    double m_clock;
    std::vector<RibbonStretch> m_stretches;
};

} // namespace

QString wordFor(RibbonStretch::Kind kind)
{
    switch (kind) {
    case Kind::Drive:
        return QObject::tr("driving");
    case Kind::SetUp:
        return QObject::tr("set-up");
    case Kind::Turning:
        return QObject::tr("turning");
    case Kind::Wait:
        return QObject::tr("waiting");
    case Kind::Break:
        return QObject::tr("break");
    }
    return {};
}

double secondOf(const QTime &time)
{
    return time.isValid() ? time.msecsSinceStartOfDay() / 1000.0 : 0.0;
}

double beginOfWork(const PlannedStop &stop)
{
    return secondOf(stop.begin.isValid() ? stop.begin : stop.arrive);
}

double endOfWork(const PlannedStop &stop)
{
    return std::max(beginOfWork(stop), std::min(beginOfWork(stop) + stop.stopMinutes * 60.0,
                                                std::max(secondOf(stop.leave), 1.0)));
}

std::vector<RibbonStretch> stretchesOf(const DayPlan &plan, const Shift &shift,
                                       const std::vector<double> &setUpMinutes)
{
    DayCutter cutter(plan, secondOf(shift.from));
    for (size_t i = 0; i < plan.stops.size(); ++i) {
        const int stop = static_cast<int>(i);
        cutter.driveTo(stop, secondOf(plan.stops[i].arrive), plan.stops[i].driveSeconds);
        cutter.work(stop, setUpMinutes[i]);
    }
    if (!plan.stops.empty()) {
        const double back = std::max(secondOf(plan.finish), cutter.clock() + plan.returnSeconds);
        cutter.driveTo(-1, back, plan.returnSeconds);
    }
    return cutter.take();
}

std::vector<double> setUpMinutesOf(Session &session, const DayPlan &plan)
{
    const StopTimes &times = session.settings().stopTimes;
    std::vector<double> minutes;
    for (const PlannedStop &stop : plan.stops) {
        const Valve *valve = session.valve(stop.valve);
        const bool isLarge = valve != nullptr && valve->size >= times.largeFrom;
        minutes.push_back(std::min(stop.stopMinutes,
                                   times.baseMinutes + (isLarge ? times.largeExtraMinutes : 0.0)));
    }
    return minutes;
}

void drawStretch(QPainter &painter, RibbonStretch::Kind kind, const QRectF &box)
{
    const double middle = box.center().y();
    switch (kind) {
    case Kind::Drive:
        painter.setPen(QPen(look::ink, std::min(3.0, box.height() / 5.0)));
        painter.drawLine(QPointF(box.left(), middle), QPointF(box.right(), middle));
        if (box.width() > 12) {
            painter.setPen(QPen(look::ink, 1.6));
            const double wing = std::min(6.0, box.height() / 3.0);
            const QPointF tip(box.center().x() + wing / 2, middle);
            painter.drawLine(tip, tip + QPointF(-wing, -wing));
            painter.drawLine(tip, tip + QPointF(-wing, wing));
        }
        break;
    case Kind::Wait:
        painter.setPen(QPen(look::attention, std::min(3.0, box.height() / 5.0), Qt::DotLine));
        painter.drawLine(QPointF(box.left(), middle), QPointF(box.right(), middle));
        break;
    case Kind::Break:
        painter.fillRect(box, look::paper);
        painter.fillRect(box, QBrush(look::quietInk, Qt::VerPattern));
        painter.setPen(QPen(look::quietInk, 1));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(box);
        break;
    case Kind::SetUp:
        painter.fillRect(box, look::waterTint);
        painter.fillRect(box, QBrush(look::water.lighter(190), Qt::BDiagPattern));
        break;
    case Kind::Turning:
        painter.fillRect(box, look::water.lighter(250));
        break;
    }
}

double drawStretchKey(QPainter &painter, const QPointF &topLeft)
{
    constexpr double sample = 26.0;
    constexpr double high = 10.0;
    const QFontMetricsF metrics(painter.font());
    double x = topLeft.x();
    for (const Kind kind : {Kind::Drive, Kind::SetUp, Kind::Turning, Kind::Wait, Kind::Break}) {
        const QRectF box(x, topLeft.y() + 2, sample, high);
        drawStretch(painter, kind, box);
        if (kind == Kind::SetUp || kind == Kind::Turning) {
            painter.setPen(QPen(look::water, 1));
            painter.setBrush(Qt::NoBrush);
            painter.drawRect(box);
        }
        const QString word = wordFor(kind);
        x += sample + 5;
        painter.setPen(look::quietInk);
        painter.drawText(QPointF(x, topLeft.y() + 11), word);
        x += metrics.horizontalAdvance(word) + 16;
    }
    return x;
}

} // namespace keyround
