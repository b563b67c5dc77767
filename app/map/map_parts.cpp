// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/map_parts.h"

#include "app/map/gestures/click_gesture.h"
#include "app/map/gestures/lasso_gesture.h"
#include "app/map/gestures/pan_gesture.h"
#include "app/map/map_here.h"
#include "app/map/map_layers.h"
#include "app/map/map_painter.h"
#include "app/shell/session.h"
#include "app/shell/style.h"

#include <QElapsedTimer>
#include <QPainter>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

/// The picture is this much larger on each side, so that a drag shows map at once.
constexpr int pictureMargin = 160;
/// Slower drawing than this is put off while a hand moves the map.
constexpr double quickMilliseconds = 30.0;

} // namespace

MapWidget::Parts::Parts(MapWidget &widget, Session &session)
    : pinch(*this), m_widget(widget), m_session(session)
{
    m_gestures.push_back(std::make_unique<PanGesture>(*this));
    m_gestures.push_back(std::make_unique<LassoGesture>(*this));
    m_gestures.push_back(std::make_unique<ClickGesture>(*this));
    m_settle.setSingleShot(true);
    m_settle.setInterval(90);
    QObject::connect(&m_settle, &QTimer::timeout, &widget, [this] { layersChanged(); });
}

void MapWidget::Parts::markStale(Stale what)
{
    m_stale = std::max(m_stale, what);
    layersChanged();
}

MapContent &MapWidget::Parts::content()
{
    if (m_stale != Stale::Nothing) {
        readAgain();
    }
    return m_content;
}

void MapWidget::Parts::showConditions(const std::optional<QHash<ValveId, Condition>> &conditions)
{
    if (!conditions && !m_conditions) {
        return;
    }
    content(); // reads what is stale, before today's are put aside
    if (m_conditions && !conditions) {
        placeValves(std::exchange(m_all, {}), m_content);
    }
    m_conditions = conditions;
    m_content.conditionsFirst = m_conditions.has_value();
    if (m_conditions) {
        placeConditions();
    }
    layersChanged();
}

void MapWidget::Parts::placeConditions()
{
    if (m_all.empty()) {
        m_all = m_content.valves;
    }
    std::vector<MapContent::DrawnValve> shown;
    for (const MapContent::DrawnValve &valve : m_all) {
        const auto at = m_conditions->constFind(valve.id);
        if (at != m_conditions->cend()) {
            shown.push_back(valve);
            shown.back().condition = *at;
            shown.back().leftOther = false; // today's, not that day's
        }
    }
    placeValves(std::move(shown), m_content);
}

void MapWidget::Parts::readAgain()
{
    m_all.clear();
    const bool all = m_stale == Stale::Everything || m_content.isEmpty();
    m_stale = Stale::Nothing;
    if (!all) {
        gatherValves(m_session, m_content);
    } else {
        const GeoPoint centre = m_content.plane.toGeo(m_view.centre);
        MapContent fresh = gatherMap(m_session);
        fresh.route = std::move(m_content.route);
        fresh.shut = std::move(m_content.shut);
        fresh.chosen = std::move(m_content.chosen);
        fresh.preview = std::move(m_content.preview);
        m_content = std::move(fresh);
        m_shown.reset(); // it lay on the old plane
        if (m_viewTouched) {
            m_view.centre = m_content.plane.toPlane(centre);
        } else {
            const bool withKey = m_view.withKey;
            m_view = viewOf(m_content.bounds, m_widget.size());
            m_view.withKey = withKey;
        }
    }
    if (m_conditions) {
        m_content.conditionsFirst = true;
        placeConditions();
    }
    m_widget.setAccessibleDescription(m_content.isEmpty()
                                          ? MapWidget::tr("No layers yet")
                                          : MapWidget::tr("%1 valves, %2 stops of a round")
                                                .arg(m_content.valves.size())
                                                .arg(m_content.route.stops.size()));
}

void MapWidget::Parts::layersChanged()
{
    m_pictureStale = true;
    m_widget.update();
}

void MapWidget::Parts::setView(const MapView &view)
{
    m_view = view;
    m_view.pixelsPerMetre =
        std::clamp(m_view.pixelsPerMetre, MapView::leastScale, MapView::mostScale);
    m_viewTouched = true;
    m_shown.reset();
    m_widget.update();
}

MapView MapWidget::Parts::viewFor(const QSizeF &size) const
{
    if (m_shown || !m_viewTouched) {
        return viewOf(m_shown.value_or(m_content.bounds), size);
    }
    MapView view = m_view;
    view.pixelsPerMetre *= std::min(size.width() / std::max(1, m_widget.width()),
                                    size.height() / std::max(1, m_widget.height()));
    return view;
}

void MapWidget::Parts::showBox(const PlaneBox &box)
{
    MapView view = viewOf(box, m_widget.size());
    view.withKey = m_view.withKey;
    setView(view);
    m_shown = box;
}

void MapWidget::Parts::showKey(bool on)
{
    m_view.withKey = on;
    m_widget.update();
}

void MapWidget::Parts::resized()
{
    if (m_shown) {
        // What was asked for before the widget had its size is what should be seen in it.
        showBox(*std::exchange(m_shown, std::nullopt));
    }
    if (!m_viewTouched && m_stale == Stale::Nothing && !m_content.isEmpty()) {
        const bool withKey = m_view.withKey;
        m_view = viewOf(m_content.bounds, m_widget.size());
        m_view.withKey = withKey;
    }
    layersChanged();
}

void MapWidget::Parts::moveBy(const QPointF &pixels)
{
    MapView view = m_view;
    view.centre.x -= pixels.x() / view.pixelsPerMetre;
    view.centre.y += pixels.y() / view.pixelsPerMetre;
    setView(view);
}

void MapWidget::Parts::zoomAbout(const QPointF &at, double factor)
{
    const PlanePoint held = frame().toPlane(at);
    MapView view = m_view;
    view.pixelsPerMetre =
        std::clamp(view.pixelsPerMetre * factor, MapView::leastScale, MapView::mostScale);
    const PlanePoint moved = MapFrame{QRectF(m_widget.rect()), view}.toPlane(at);
    view.centre.x += held.x - moved.x;
    view.centre.y += held.y - moved.y;
    setView(view);
}

double MapWidget::Parts::reachMetres(bool byTouch) const
{
    return pixelsFor(byTouch ? 10.0 : 4.0, &m_widget) / m_view.pixelsPerMetre;
}

void MapWidget::Parts::clickAt(const QPointF &at, bool byTouch)
{
    const PlanePoint place = frame().toPlane(at);
    const auto *valve = picksPlaces ? nullptr : content().valveNear(place, reachMetres(byTouch));
    if (valve != nullptr) {
        Q_EMIT m_widget.valveClicked(ValveId(valve->id));
    } else {
        Q_EMIT m_widget.placeClicked(content().plane.toGeo(place));
    }
}

void MapWidget::Parts::pickWithin(const QPolygonF &outline)
{
    const MapFrame seen = frame();
    PlaneBox box;
    box.take(seen.toPlane(outline.boundingRect().topLeft()));
    box.take(seen.toPlane(outline.boundingRect().bottomRight()));
    QList<ValveId> picked;
    for (const std::size_t i : content().valveIndex.within(box)) {
        const auto &valve = m_content.valves[i];
        if (outline.containsPoint(seen.toScreen(valve.at), Qt::OddEvenFill)) {
            picked << valve.id;
        }
    }
    Q_EMIT m_widget.valvesPicked(picked);
}

QString MapWidget::Parts::tipAt(const QPointF &at)
{
    const auto *drawn = content().valveNear(frame().toPlane(at), reachMetres(false));
    const Valve *valve = drawn != nullptr ? m_session.valve(drawn->id) : nullptr;
    if (valve == nullptr) {
        return {};
    }
    QStringList parts{MapWidget::tr("Valve %1").arg(valve->number)};
    if (valve->size.isKnown()) {
        parts << sizeText(valve->size, m_content.units);
    }
    parts << wordFor(drawn->condition);
    if (drawn->leftOther) {
        parts << MapWidget::tr("not in its normal position");
    }
    return parts.join(QStringLiteral(", "));
}

void MapWidget::Parts::tellGestures(void (Gesture::*what)(const GestureEvent &),
                                    const GestureEvent &event)
{
    for (const auto &gesture : m_gestures) {
        ((*gesture).*what)(event);
    }
}

void MapWidget::Parts::cancelGestures()
{
    for (const auto &gesture : m_gestures) {
        gesture->cancel();
    }
}

bool MapWidget::Parts::pictureCovers() const
{
    if (m_picture.isNull() || m_pictureView.pixelsPerMetre != m_view.pixelsPerMetre) {
        return false;
    }
    const double dx = (m_view.centre.x - m_pictureView.centre.x) * m_view.pixelsPerMetre;
    const double dy = (m_view.centre.y - m_pictureView.centre.y) * m_view.pixelsPerMetre;
    return std::max(std::abs(dx), std::abs(dy)) <= pictureMargin;
}

void MapWidget::Parts::drawPicture()
{
    QElapsedTimer timer;
    timer.start();
    const double ratio = m_widget.devicePixelRatioF();
    const QSize size = m_widget.size() + QSize(2 * pictureMargin, 2 * pictureMargin);
    if (m_picture.size() != size * ratio) {
        m_picture = QPixmap(size * ratio);
        m_picture.setDevicePixelRatio(ratio);
    }
    QPainter painter(&m_picture);
    painter.setFont(m_widget.font());
    paintMapLayers(painter, QRectF(QPointF(0, 0), QSizeF(size)), content(), m_view);
    m_pictureView = m_view;
    m_pictureStale = false;
    m_pictureMilliseconds = static_cast<double>(timer.nsecsElapsed()) / 1e6;
}

/// Shows the picture moved, or stretched while a scale changes faster than it can be drawn.
void MapWidget::Parts::drawFromPicture(QPainter &painter)
{
    const double stretch = m_view.pixelsPerMetre / m_pictureView.pixelsPerMetre;
    const QSizeF size = QSizeF(m_picture.size()) / m_picture.devicePixelRatio() * stretch;
    const QPointF middle = frame().toScreen(m_pictureView.centre);
    painter.fillRect(m_widget.rect(), look::paper);
    painter.drawPixmap(QRectF(middle - QPointF(size.width(), size.height()) / 2, size), m_picture,
                       QRectF(m_picture.rect()));
}

void MapWidget::Parts::paint(QPainter &painter)
{
    content(); // reading may move the view
    painter.setRenderHint(QPainter::Antialiasing);
    if (m_content.isEmpty() && m_content.preview.empty()) {
        paintMap(painter, QRectF(m_widget.rect()), m_content, m_view);
    } else {
        if (m_pictureStale || !pictureCovers()) {
            if (m_pictureStale || m_pictureMilliseconds <= quickMilliseconds) {
                drawPicture();
            } else {
                m_settle.start();
            }
        }
        drawFromPicture(painter);
        paintScaleBar(painter, QRectF(m_widget.rect()), m_view, m_content.units);
        if (m_view.withKey) {
            paintKey(painter, QRectF(m_widget.rect()), m_content);
        }
    }
    paintHere(painter, frame(), m_content.plane, m_session.positions());
    for (const auto &gesture : m_gestures) {
        gesture->paint(painter);
    }
    if (crossShown) {
        const QPointF middle = QRectF(m_widget.rect()).center();
        painter.setPen(QPen(look::water, 1.6));
        painter.drawLine(middle - QPointF(12, 0), middle + QPointF(12, 0));
        painter.drawLine(middle - QPointF(0, 12), middle + QPointF(0, 12));
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(look::water, 2.0));
        painter.drawRect(QRectF(m_widget.rect()).adjusted(1, 1, -1, -1));
    }
}

} // namespace keyround
