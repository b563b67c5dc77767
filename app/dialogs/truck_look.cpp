// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/truck_look.h"

#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/shell/style.h"

#include <QObject>
#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyround {

TruckScale TruckScale::of(const QWidget *widget)
{
    const auto pixels = [widget](double millimetres) {
        return static_cast<int>(std::ceil(pixelsFor(millimetres, widget)));
    };
    // A capital is 0.73 of the font's height in the program's font.
    return {pixels(20.0), pixels(3.0), pixels(3.8 / 0.73), pixels(7.0)};
}

const TruckColours &TruckColours::sun()
{
    static const TruckColours colours{look::paper,
                                      look::card,
                                      look::ink,
                                      look::quietInk,
                                      look::rule,
                                      look::water,
                                      look::waterTint,
                                      Qt::white,
                                      look::attention,
                                      look::attentionTint,
                                      look::danger,
                                      Qt::white,
                                      QColor(0xF0, 0xC8, 0x80)};
    return colours;
}

const TruckColours &TruckColours::night()
{
    static const TruckColours colours{
        QColor(0x0F, 0x14, 0x19), QColor(0x1A, 0x21, 0x28), QColor(0xF1, 0xED, 0xE2),
        QColor(0xBC, 0xC4, 0xCA), QColor(0x3B, 0x45, 0x4D), QColor(0x8C, 0xC4, 0xF2),
        QColor(0x1E, 0x36, 0x4A), QColor(0x08, 0x12, 0x1B), QColor(0xE8, 0xA9, 0x4A),
        QColor(0x38, 0x2A, 0x12), QColor(0xFF, 0xA8, 0xA0), QColor(0x26, 0x04, 0x07),
        QColor(0x8A, 0x64, 0x1E)};
    return colours;
}

namespace {

constexpr const char *nightProperty = "nightLook";

} // namespace

const TruckColours &TruckColours::of(const QWidget *widget)
{
    return hasNightLook(widget) ? night() : sun();
}

void setNightLook(QWidget *widget, bool night)
{
    widget->setProperty(nightProperty, night);
}

bool hasNightLook(const QWidget *widget)
{
    for (const QWidget *up = widget; up != nullptr; up = up->parentWidget()) {
        if (const QVariant said = up->property(nightProperty); said.isValid()) {
            return said.toBool();
        }
    }
    return false;
}

QString sheetFor(const TruckColours &colours)
{
    QString sheet = QStringLiteral(
        "QWidget { color: @ink; }"
        "QStackedWidget, QStackedWidget > QWidget { background: @ground; }"
        "QLabel[role=\"caution\"] { background: @tint; color: @ink; "
        "border-left: 4px solid @caution; }"
        "QLabel[role=\"danger\"] { background: @danger; color: @ondanger; }"
        "QLineEdit, QPlainTextEdit { background: @card; color: @ink; border-color: @quiet; "
        "selection-background-color: @act; selection-color: @onact; }"
        "QLineEdit:focus, QPlainTextEdit:focus { border: 3px solid @act; }"
        "QLineEdit[refused=\"true\"] { border: 3px solid @danger; }"
        "QScrollBar { background: @ground; }");
    const std::initializer_list<std::pair<const char *, QColor>> names{
        {"@ground", colours.ground},    {"@card", colours.card},
        {"@ink", colours.ink},          {"@quiet", colours.quietInk},
        {"@tint", colours.cautionTint}, {"@caution", colours.caution},
        {"@danger", colours.danger},    {"@ondanger", colours.onDanger},
        {"@act", colours.act},          {"@onact", colours.onAct}};
    for (const auto &[name, colour] : names) {
        sheet.replace(QLatin1String(name), colour.name());
    }
    return sheet;
}

QFont truckFont(const QWidget *widget, TextSize size, bool bold)
{
    const TruckScale scale = TruckScale::of(widget);
    QFont font = widget->font();
    switch (size) {
    case TextSize::Small:
        font.setPixelSize(scale.text * 4 / 5);
        break;
    case TextSize::Normal:
        font.setPixelSize(scale.text);
        break;
    case TextSize::Title:
        font.setPixelSize(scale.title);
        break;
    case TextSize::Huge:
        font.setPixelSize(scale.title * 3 / 2);
        break;
    }
    font.setBold(bold);
    return font;
}

QLabel *truckLabel(QWidget *parent, TextSize size, bool bold)
{
    QLabel *label = plainLabel({}, {}, parent);
    label->setFont(truckFont(parent, size, bold));
    return label;
}

void setNote(QLabel *label, NoteKind kind, const QString &text)
{
    static constexpr const char *roles[] = {"", "caution", "danger"};
    restyle(label, "role", QLatin1String(roles[static_cast<int>(kind)]));
    if (kind == NoteKind::Quiet) {
        label->setContentsMargins(0, 0, 0, 0);
    } else {
        label->setContentsMargins(14, 6, 10, 6);
    }
    label->setText(text);
    label->setVisible(!text.isEmpty());
}

ClosingDirection keyDirection(const Valve &valve, PassDirection pass)
{
    if (pass == PassDirection::Closing) {
        return valve.closes;
    }
    return valve.closes == ClosingDirection::Clockwise ? ClosingDirection::Counterclockwise
                                                       : ClosingDirection::Clockwise;
}

QString wordFor(PassDirection direction)
{
    return direction == PassDirection::Closing ? QObject::tr("Closing") : QObject::tr("Opening");
}

void drawTurnArrow(QPainter &painter, const QRectF &where, bool clockwise, const QColor &colour)
{
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const double side = std::min(where.width(), where.height());
    const double thick = side * 0.13;
    const double radius = side * 0.36;
    const QPointF centre = where.center();
    painter.setPen(QPen(colour, thick, Qt::SolidLine, Qt::FlatCap));
    painter.setBrush(Qt::NoBrush);
    const QRectF box(centre.x() - radius, centre.y() - radius, 2 * radius, 2 * radius);
    // Most of a circle; Qt's angles grow counterclockwise in sixteenths of a degree.
    painter.drawArc(box, (clockwise ? 135 : 45) * 16, (clockwise ? -250 : 250) * 16);
    const double degrees = clockwise ? 135.0 - 250.0 : 45.0 + 250.0;
    const double angle = degrees * std::numbers::pi / 180.0;
    const QPointF tip(centre.x() + radius * std::cos(angle), centre.y() - radius * std::sin(angle));
    // The head points along the circle in the direction of turning.
    const double sign = clockwise ? 1.0 : -1.0;
    const QPointF along(std::sin(angle) * sign, std::cos(angle) * sign);
    const QPointF across(std::cos(angle), -std::sin(angle));
    const double head = side * 0.2;
    QPainterPath path;
    path.moveTo(tip + along * head * 1.3);
    path.lineTo(tip + across * head);
    path.lineTo(tip - across * head);
    path.closeSubpath();
    painter.setPen(Qt::NoPen);
    painter.setBrush(colour);
    painter.drawPath(path);
    painter.restore();
}

} // namespace keyround
