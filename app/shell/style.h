// SPDX-License-Identifier: GPL-3.0-or-later
// The house's look in one place: quiet paper ground, dark ink, one blue for what can be acted on,
// one orange for what needs somebody, red for danger alone. Widgets take it from the style sheet
// (resources/style.qss, which the colours below are written into); painters from here.
//
// Contrast on the paper ground by the WCAG 2 formula: ink 14:1, quiet ink 7:1, water 7:1,
// attention 5:1, danger 7:1 (tests/app/test_style.cpp computes them).
#pragma once

#include "core/fieldlog/judgement.h"

#include <QColor>

class QApplication;
class QPainter;
class QPointF;

namespace keyround {

namespace look {

inline const QColor paper(0xFA, 0xF8, 0xF3);
inline const QColor card(0xFF, 0xFF, 0xFF);
inline const QColor ink(0x1C, 0x24, 0x2B);
inline const QColor quietInk(0x4A, 0x55, 0x5E);
inline const QColor rule(0xD5, 0xD0, 0xC4);
inline const QColor water(0x0B, 0x4F, 0x8A);
inline const QColor waterTint(0xDC, 0xE9, 0xF4);
inline const QColor attention(0xA8, 0x55, 0x00);
inline const QColor attentionTint(0xFB, 0xEB, 0xD3);
inline const QColor danger(0xA1, 0x12, 0x1F);
inline const QColor streetFill(0xE9, 0xE4, 0xD8);
inline const QColor mainLine(0x6C, 0x9B, 0xC4);

} // namespace look

/// Sets palette, font and style sheet. Call once, before the first window.
void applyLook(QApplication &application);

/// Fill for a condition (Okabe-Ito colours, safe for colour-blind eyes). A colour never stands
/// alone: draw drawConditionMark() or the word beside it.
[[nodiscard]] QColor colourOf(Condition condition);
/// The condition's shape, outlined in ink: disc (serviceable), disc with a bar (defect), square
/// (does not shut), triangle (does not turn), cross (cannot reach), ring (never visited).
void drawConditionMark(QPainter &painter, Condition condition, const QPointF &centre,
                       double radius);

/// Pixels on this screen for a length in millimetres, from the screen's own figures, or from the
/// operator's calibration where one was made (screens report wrong sizes).
[[nodiscard]] double pixelsFor(double millimetres, const class QWidget *widget);

} // namespace keyround
