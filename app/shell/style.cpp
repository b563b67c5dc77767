// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shell/style.h"

#include <QApplication>
#include <QFile>
#include <QFontDatabase>
#include <QPainter>
#include <QPainterPath>
#include <QPalette>
#include <QScreen>
#include <QSettings>
#include <QStyleFactory>
#include <QWidget>

#include <algorithm>

// Q_INIT_RESOURCE must stand outside of every namespace; without it a static library's resources
// (style sheet, policy packs) are left out of the program.
static void initAppResources()
{
    Q_INIT_RESOURCE(app);
}

namespace keyround {

namespace {

QString filledStyleSheet()
{
    QFile file(QStringLiteral(":/style.qss"));
    if (!file.open(QIODevice::ReadOnly)) {
        return {};
    }
    QString sheet = QString::fromUtf8(file.readAll());
    const std::initializer_list<std::pair<const char *, QColor>> names{
        {"@paper", look::paper},
        {"@card", look::card},
        {"@ink", look::ink},
        {"@quiet", look::quietInk},
        {"@rule", look::rule},
        {"@watertint", look::waterTint},
        {"@water", look::water},
        {"@attentiontint", look::attentionTint},
        {"@attention", look::attention},
        {"@danger", look::danger},
    };
    for (const auto &[name, colour] : names) {
        sheet.replace(QLatin1String(name), colour.name());
    }
    return sheet;
}

QPalette lightPalette()
{
    QPalette palette;
    palette.setColor(QPalette::Window, look::paper);
    palette.setColor(QPalette::Base, look::card);
    palette.setColor(QPalette::AlternateBase, look::paper);
    palette.setColor(QPalette::Button, look::card);
    palette.setColor(QPalette::Text, look::ink);
    palette.setColor(QPalette::WindowText, look::ink);
    palette.setColor(QPalette::ButtonText, look::ink);
    palette.setColor(QPalette::PlaceholderText, look::quietInk);
    palette.setColor(QPalette::Highlight, look::water);
    palette.setColor(QPalette::HighlightedText, Qt::white);
    palette.setColor(QPalette::Link, look::water);
    return palette;
}

QPainterPath markPath(Condition condition, const QPointF &c, double r)
{
    QPainterPath path;
    switch (condition) {
    case Condition::DoesNotShut:
        path.addRect(c.x() - r * 0.9, c.y() - r * 0.9, 1.8 * r, 1.8 * r);
        break;
    case Condition::DoesNotTurn:
        path.moveTo(c.x(), c.y() - 1.1 * r);
        path.lineTo(c.x() + 1.1 * r, c.y() + 0.9 * r);
        path.lineTo(c.x() - 1.1 * r, c.y() + 0.9 * r);
        path.closeSubpath();
        break;
    default:
        path.addEllipse(c, r, r);
        break;
    }
    return path;
}

} // namespace

void applyLook(QApplication &application)
{
    initAppResources();
    QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
    QApplication::setPalette(lightPalette());
    QFont font(QStringLiteral("DejaVu Sans"));
    font.setPointSizeF(10.5);
    QApplication::setFont(font);
    application.setStyleSheet(filledStyleSheet());
}

QColor colourOf(Condition condition)
{
    switch (condition) {
    case Condition::Serviceable:
        return {0x00, 0x9E, 0x73};
    case Condition::Defect:
        return {0x56, 0xB4, 0xE9};
    case Condition::DoesNotShut:
        return {0xE6, 0x9F, 0x00};
    case Condition::DoesNotTurn:
        return {0xD5, 0x5E, 0x00};
    case Condition::CannotReach:
        return {0xCC, 0x79, 0xA7};
    case Condition::NeverVisited:
        break;
    }
    return {0xFF, 0xFF, 0xFF};
}

void drawConditionMark(QPainter &painter, Condition condition, const QPointF &centre, double radius)
{
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(look::ink, std::max(1.0, radius * 0.22)));
    painter.setBrush(colourOf(condition));
    painter.drawPath(markPath(condition, centre, radius));
    const double arm = radius * 0.6;
    if (condition == Condition::Defect) {
        painter.drawLine(QPointF(centre.x() - arm, centre.y()),
                         QPointF(centre.x() + arm, centre.y()));
    } else if (condition == Condition::CannotReach) {
        painter.drawLine(centre + QPointF(-arm, -arm), centre + QPointF(arm, arm));
        painter.drawLine(centre + QPointF(-arm, arm), centre + QPointF(arm, -arm));
    }
    painter.restore();
}

double pixelsFor(double millimetres, const QWidget *widget)
{
    const QScreen *screen = widget != nullptr && widget->screen() != nullptr
                                ? widget->screen()
                                : QApplication::primaryScreen();
    const double calibrated =
        QSettings().value(QStringLiteral("pixelsPerMillimetre"), 0.0).toDouble();
    if (calibrated > 0.0) {
        return millimetres * calibrated;
    }
    // Reported sizes below 2 or above 12 pixels a millimetre are wrong more often than right.
    const double perMillimetre = screen != nullptr ? screen->physicalDotsPerInch() / 25.4 : 4.0;
    return millimetres * std::clamp(perMillimetre, 3.0, 12.0);
}

} // namespace keyround
