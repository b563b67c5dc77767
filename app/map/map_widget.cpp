// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/map_widget.h"

#include "app/map/map_layers.h"
#include "app/map/map_painter.h"
#include "app/map/map_parts.h"
#include "app/position/position_feed.h"
#include "app/shell/session.h"
#include "app/shell/style.h"

#include <QHelpEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QToolButton>
#include <QToolTip>
#include <QTouchEvent>
#include <QVBoxLayout>
#include <QWheelEvent>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double zoomStep = 1.5;

} // namespace

MapWidget::MapWidget(Session &session, QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(*this, session))
{
    setFocusPolicy(Qt::StrongFocus);
    setAttribute(Qt::WA_AcceptTouchEvents);
    setAttribute(Qt::WA_OpaquePaintEvent);
    setCursor(Qt::OpenHandCursor);
    setAccessibleName(tr("Map"));
    buildButtons();
    listen(session);
}

MapWidget::~MapWidget() = default;

void MapWidget::listen(Session &session)
{
    const auto mark = [this](Parts::Stale what) {
        return [this, what] { m_parts->markStale(what); };
    };
    connect(&session.positions(), &PositionFeed::changed, this, qOverload<>(&QWidget::update));
    Notifier &notifier = session.notifier();
    connect(&notifier, &Notifier::layersChanged, this, mark(Parts::Stale::Everything));
    connect(&notifier, &Notifier::valvesChanged, this, mark(Parts::Stale::Everything));
    connect(&notifier, &Notifier::visitsChanged, this, mark(Parts::Stale::Valves));
    connect(&notifier, &Notifier::settingsChanged, this, mark(Parts::Stale::Valves));
    connect(&notifier, &Notifier::projectChanged, this, [this] {
        setRoute({});
        setShut({});
        setChosen({});
        setPreview({});
        m_parts->forgetView();
        m_parts->markStale(Parts::Stale::Everything);
    });
}

void MapWidget::buildButtons()
{
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(8, 8, 8, 8);
    column->setSpacing(6);
    const int side = std::clamp(static_cast<int>(std::lround(pixelsFor(8.0, this))), 34, 48);
    const auto add = [&](const QString &text, const QString &name, const QString &tip) {
        auto *button = new QToolButton(this);
        button->setText(text);
        button->setAccessibleName(name);
        button->setToolTip(tip);
        button->setFixedSize(side, side);
        button->setCursor(Qt::ArrowCursor);
        // The map itself does all of this by keys, so that the tab order stays short.
        button->setFocusPolicy(Qt::NoFocus);
        column->addWidget(button, 0, Qt::AlignRight);
        return button;
    };
    connect(add(QStringLiteral("+"), tr("Nearer"), tr("Nearer (+)")), &QToolButton::clicked, this,
            [this] { zoom(zoomStep); });
    connect(add(QStringLiteral("\u2212"), tr("Farther"), tr("Farther (-)")), &QToolButton::clicked,
            this, [this] { zoom(1.0 / zoomStep); });
    connect(add(tr("All"), tr("Show all"), tr("Show all (Home)")), &QToolButton::clicked, this,
            &MapWidget::showAll);
    QToolButton *key = add(tr("Key"), tr("Key to the signs"), tr("Key to the signs"));
    key->setCheckable(true);
    connect(key, &QToolButton::toggled, this, &MapWidget::setKeyShown);
    column->addStretch(1);
}

void MapWidget::setRoute(const MapRoute &route)
{
    m_parts->content().route = route;
    m_parts->layersChanged();
}

void MapWidget::setShut(const MapShut &shut)
{
    m_parts->content().shut = shut;
    m_parts->layersChanged();
}

void MapWidget::setChosen(const QSet<ValveId> &chosen)
{
    MapContent &content = m_parts->content();
    if (content.chosen != chosen) {
        content.chosen = chosen;
        m_parts->layersChanged();
    }
}

void MapWidget::setConditionsShown(const std::optional<QHash<ValveId, Condition>> &conditions)
{
    m_parts->showConditions(conditions);
}

void MapWidget::setPreview(const std::vector<GeoPoint> &points)
{
    m_parts->content().preview = points;
    m_parts->layersChanged();
}

void MapWidget::showAll()
{
    const MapContent &content = m_parts->content();
    if (content.isEmpty()) {
        showPoints(content.preview);
    } else {
        m_parts->showBox(content.bounds);
    }
}

void MapWidget::showRoute()
{
    const MapContent &content = m_parts->content();
    MapView view = viewOfRoute(content, content.route, size());
    view.withKey = m_parts->view().withKey;
    m_parts->setView(view);
}

void MapWidget::showValve(const ValveId &valve)
{
    const MapContent &content = m_parts->content();
    const auto found = std::ranges::find(content.valves, valve, &MapContent::DrawnValve::id);
    if (found == content.valves.end()) {
        return;
    }
    MapView view = m_parts->view();
    if (!showsMarksBeside(view)) {
        view.pixelsPerMetre = 1.0;
    } else if (QRectF(rect())
                   .adjusted(60, 60, -60, -60)
                   .contains(m_parts->frame().toScreen(found->at))) {
        return; // seen already: a map that jumps loses its reader
    }
    view.centre = found->at;
    m_parts->setView(view);
}

void MapWidget::showPoints(const std::vector<GeoPoint> &points)
{
    MapContent &content = m_parts->content();
    PlaneBox box;
    for (const GeoPoint &point : points) {
        if (point.isValid()) {
            if (content.isEmpty() && box.isEmpty()) {
                content.plane = LocalPlane(point); // nothing else has a place on the plane yet
            }
            box.take(content.plane.toPlane(point));
        }
    }
    if (!box.isEmpty()) {
        m_parts->showBox(box);
        m_parts->layersChanged();
    }
}

void MapWidget::showPlace(const GeoPoint &place)
{
    const MapContent &content = m_parts->content();
    MapView view = m_parts->view();
    const PlanePoint at = content.plane.toPlane(place);
    if (!showsMarksBeside(view)) {
        view.pixelsPerMetre = 1.0;
    } else if (QRectF(rect()).adjusted(60, 60, -60, -60).contains(m_parts->frame().toScreen(at))) {
        return;
    }
    view.centre = at;
    m_parts->setView(view);
}

void MapWidget::paintInto(QPainter &painter, const QRectF &area)
{
    constexpr double keyWidth = 236;
    QRectF beside = area; // the key, so that it covers nothing
    beside.setLeft(area.right() - std::min(keyWidth, area.width() / 3));
    const QRectF map(area.topLeft(), QPointF(beside.left(), area.bottom()));
    const MapContent &content = m_parts->content(); // what is stale may move the view
    MapView view = m_parts->viewFor(map.size());
    view.withKey = false;
    paintMap(painter, map, content, view);
    painter.fillRect(beside, look::card);
    paintKey(painter, beside, content);
}

void MapWidget::zoom(double factor)
{
    m_parts->zoomAbout(QRectF(rect()).center(), factor);
}

void MapWidget::setLasso(bool on)
{
    m_parts->lasso = on;
    m_parts->cancelGestures();
    setCursor(on ? Qt::CrossCursor : Qt::OpenHandCursor);
}

void MapWidget::setPicksPlaces(bool on)
{
    m_parts->picksPlaces = on;
    setCursor(on ? Qt::CrossCursor : Qt::OpenHandCursor);
}

void MapWidget::setKeyShown(bool on)
{
    m_parts->showKey(on);
}

QPointF MapWidget::screenPoint(const GeoPoint &place) const
{
    const MapContent &content = m_parts->content();
    return m_parts->frame().toScreen(content.plane.toPlane(place));
}

double MapWidget::pixelsPerMetre() const
{
    return m_parts->view().pixelsPerMetre;
}

bool MapWidget::event(QEvent *event)
{
    switch (event->type()) {
    case QEvent::TouchBegin:
    case QEvent::TouchUpdate:
    case QEvent::TouchEnd:
    case QEvent::TouchCancel:
        return touchEvent(static_cast<QTouchEvent *>(event));
    case QEvent::ToolTip: {
        const auto *help = static_cast<QHelpEvent *>(event);
        const QString tip = m_parts->tipAt(help->pos());
        if (tip.isEmpty()) {
            QToolTip::hideText();
        } else {
            // A tool tip guesses whether text is HTML; a number from a file must stay text.
            QToolTip::showText(help->globalPos(),
                               QStringLiteral("<p>%1</p>").arg(tip.toHtmlEscaped()), this);
        }
        return true;
    }
    default:
        return QWidget::event(event);
    }
}

bool MapWidget::touchEvent(QTouchEvent *event)
{
    const QList<QEventPoint> &points = event->points();
    if (event->type() == QEvent::TouchCancel) {
        m_parts->cancelGestures();
        m_parts->pinch.end();
        return true;
    }
    if (points.size() >= 2) {
        m_parts->cancelGestures();
        m_parts->pinch.move(points[0].position(), points[1].position());
        if (event->type() == QEvent::TouchEnd) {
            m_parts->pinch.end();
        }
        return true;
    }
    m_parts->pinch.end();
    if (points.isEmpty()) {
        return true;
    }
    const GestureEvent touch{points[0].position(), true, m_parts->lasso};
    m_parts->tellGestures(event->type() == QEvent::TouchBegin ? &Gesture::press
                          : event->type() == QEvent::TouchEnd ? &Gesture::release
                                                              : &Gesture::move,
                          touch);
    return true;
}

void MapWidget::paintEvent(QPaintEvent * /*event*/)
{
    QPainter painter(this);
    m_parts->paint(painter);
}

void MapWidget::resizeEvent(QResizeEvent *event)
{
    QWidget::resizeEvent(event);
    m_parts->resized();
}

void MapWidget::mousePressEvent(QMouseEvent *event)
{
    if (event->button() == Qt::LeftButton) {
        const bool lasso = m_parts->lasso || event->modifiers().testFlag(Qt::ShiftModifier);
        m_parts->tellGestures(&Gesture::press, {event->position(), false, lasso});
    }
}

void MapWidget::mouseMoveEvent(QMouseEvent *event)
{
    m_parts->tellGestures(&Gesture::move, {event->position(), false, m_parts->lasso});
}

void MapWidget::mouseReleaseEvent(QMouseEvent *event)
{
    if (event->button() == Qt::LeftButton) {
        m_parts->tellGestures(&Gesture::release, {event->position(), false, m_parts->lasso});
    }
}

void MapWidget::wheelEvent(QWheelEvent *event)
{
    // A wheel's notch is 120; a touch pad gives many small steps of the same measure.
    const double notches = event->angleDelta().y() / 120.0;
    if (notches != 0.0) {
        m_parts->zoomAbout(event->position(), std::pow(1.25, notches));
    }
    event->accept();
}

void MapWidget::keyPressEvent(QKeyEvent *event)
{
    const double step = std::min(width(), height()) / 6.0;
    switch (event->key()) {
    case Qt::Key_Plus:
    case Qt::Key_Equal:
        return zoom(zoomStep);
    case Qt::Key_Minus:
        return zoom(1.0 / zoomStep);
    case Qt::Key_Left:
        return m_parts->moveBy({step, 0});
    case Qt::Key_Right:
        return m_parts->moveBy({-step, 0});
    case Qt::Key_Up:
        return m_parts->moveBy({0, step});
    case Qt::Key_Down:
        return m_parts->moveBy({0, -step});
    case Qt::Key_Home:
        return showAll();
    case Qt::Key_Return:
    case Qt::Key_Enter:
        return m_parts->clickAt(QRectF(rect()).center(), false);
    case Qt::Key_Escape:
        m_parts->cancelGestures();
        break;
    default:
        break;
    }
    QWidget::keyPressEvent(event);
}

void MapWidget::focusInEvent(QFocusEvent *event)
{
    m_parts->crossShown = event->reason() == Qt::TabFocusReason ||
                          event->reason() == Qt::BacktabFocusReason ||
                          event->reason() == Qt::ShortcutFocusReason;
    QWidget::focusInEvent(event);
    update();
}

void MapWidget::focusOutEvent(QFocusEvent *event)
{
    m_parts->crossShown = false;
    m_parts->cancelGestures();
    QWidget::focusOutEvent(event);
    update();
}

} // namespace keyround
