// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/map_painter.h"

#include "app/map/map_layers.h"
#include "app/shell/style.h"
#include "core/exchange/write_files.h"

#include <QBuffer>
#include <QCoreApplication>
#include <QImage>
#include <QPainter>

#include <algorithm>

namespace keyround {

namespace {

QString emptyMapText()
{
    return QCoreApplication::translate(
        "Map", "No layers yet. Import streets and valves (Project, Bring in a file), "
               "and they are laid out here.");
}

void paintEmpty(QPainter &painter, const QRectF &area)
{
    painter.setPen(look::quietInk);
    QFont font = painter.font();
    font.setPointSizeF(13);
    painter.setFont(font);
    const double margin = std::min(40.0, area.width() / 8);
    painter.drawText(area.adjusted(margin, margin, -margin, -margin),
                     Qt::AlignCenter | Qt::TextWordWrap, emptyMapText());
}

} // namespace

void paintMapLayers(QPainter &painter, const QRectF &area, const MapContent &content,
                    const MapView &view)
{
    painter.save();
    painter.setClipRect(area, Qt::IntersectClip);
    painter.fillRect(area, look::paper);
    painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing |
                           QPainter::SmoothPixmapTransform);
    const MapFrame frame{area, view};
    LabelGrid labels(area);
    paintStreets(painter, frame, content);
    paintMains(painter, frame, content);
    paintShutLines(painter, frame, content);
    paintRouteLine(painter, frame, content);
    paintHydrants(painter, frame, content);
    // Signs keep their places; the stops' numbers choose theirs first, then names, then the
    // valves' own numbers.
    reserveValves(frame, content, labels);
    const std::vector<PlacedStop> stops = placeStops(painter, frame, content, labels);
    reserveRoute(frame, content, labels);
    reserveShut(frame, content, labels);
    paintStreetNames(painter, frame, content, labels);
    paintValves(painter, frame, content, labels);
    paintPreview(painter, frame, content);
    paintRouteStops(painter, frame, content, stops);
    paintShutSigns(painter, frame, content);
    painter.restore();
}

void paintMap(QPainter &painter, const QRectF &area, const MapContent &content, const MapView &view)
{
    paintMapLayers(painter, area, content, view);
    painter.save();
    painter.setClipRect(area, Qt::IntersectClip);
    painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing);
    if (content.isEmpty() && content.preview.empty()) {
        paintEmpty(painter, area);
    } else {
        paintScaleBar(painter, area, view, content.units);
        if (view.withKey) {
            paintKey(painter, area, content);
        }
    }
    painter.restore();
}

MapView viewOfRoute(const MapContent &content, const MapRoute &route, const QSizeF &size)
{
    PlaneBox box;
    const auto take = [&](const GeoPoint &point) {
        if (point.isValid()) {
            box.take(content.plane.toPlane(point));
        }
    };
    if (!route.isEmpty()) {
        take(route.start);
        take(route.finish);
        for (const MapRoute::Stop &stop : route.stops) {
            take(stop.place);
        }
        for (const GeoPoint &point : route.line) {
            take(point);
        }
    }
    return viewOf(box.isEmpty() ? content.bounds : box, size, 60.0);
}

Status saveMapPng(Session &session, const MapRoute &route, const QString &path, const QSize &size)
{
    if (size.isEmpty()) {
        return fail(ErrorCode::BadInput,
                    QCoreApplication::translate(
                        "Map", "The map was not saved: a picture of %1 by %2 pixels holds nothing. "
                               "Give a width and a height above zero.")
                        .arg(size.width())
                        .arg(size.height()));
    }
    MapContent content = gatherMap(session);
    content.route = route;
    QImage image(size, QImage::Format_RGB32);
    {
        QPainter painter(&image);
        MapView view = viewOfRoute(content, route, size);
        view.withKey = true;
        paintMap(painter, QRectF(QPointF(0, 0), QSizeF(size)), content, view);
    }
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    if (!image.save(&buffer, "PNG")) {
        return fail(ErrorCode::StorageFault,
                    QCoreApplication::translate(
                        "Map", "The map was not saved to %1: the picture could not be encoded. "
                               "Try a smaller size.")
                        .arg(path));
    }
    return writeWhole(path, bytes);
}

} // namespace keyround
