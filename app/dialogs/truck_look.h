// SPDX-License-Identifier: GPL-3.0-or-later
// What everything in the Truck is sized by: targets of 20 mm with 3 mm between them, and capitals
// of 3.8 mm, which read at 600 mm (20 minutes of arc or more; ISO 9241-3 asks for 16). Real
// millimetres, from the screen or from its calibration. Text is 7:1 or better against what is under
// it (WCAG 2's formula), in the sun look and in the night look: tests/app/test_truck_look.cpp.
#pragma once

#include "core/fieldlog/visit.h"
#include "core/inventory/valve.h"

#include <QColor>
#include <QFont>
#include <QLabel>

class QPainter;
class QRectF;

namespace keyround {

struct TruckScale
{
    int target = 88; ///< 20 mm
    int gap = 13;    ///< 3 mm
    int text = 22;   ///< font height for capitals of 3.8 mm
    int title = 30;
    [[nodiscard]] static TruckScale of(const QWidget *widget);
};

/// Dark on light for the sun; light on dark for the night, which spares eyes that must see the
/// street. What stands within a widget that setNightLook() marked is drawn in the night look.
struct TruckColours
{
    QColor ground, card, ink, quietInk, rule;
    QColor act, actTint, onAct; ///< what can be acted on, and the words on it
    QColor caution, cautionTint;
    QColor danger, onDanger;
    QColor band; ///< of the count's tolerance
    [[nodiscard]] static const TruckColours &sun();
    [[nodiscard]] static const TruckColours &night();
    [[nodiscard]] static const TruckColours &of(const QWidget *widget);
};
void setNightLook(QWidget *widget, bool night);
[[nodiscard]] bool hasNightLook(const QWidget *widget);
/// The style sheet that gives a part of the window these colours.
[[nodiscard]] QString sheetFor(const TruckColours &colours);

enum class TextSize { Small, Normal, Title, Huge };
[[nodiscard]] QFont truckFont(const QWidget *widget, TextSize size, bool bold = false);
/// A wrapping label in plain text.
[[nodiscard]] QLabel *truckLabel(QWidget *parent, TextSize size = TextSize::Normal,
                                 bool bold = false);
/// A box that needs somebody (ink on the attention tint) or warns of danger (white on red).
enum class NoteKind { Quiet, Attention, Danger };
void setNote(QLabel *label, NoteKind kind, const QString &text);

/// Which way the key goes for a pass: closing as the valve says, opening against it.
[[nodiscard]] ClosingDirection keyDirection(const Valve &valve, PassDirection pass);
[[nodiscard]] QString wordFor(PassDirection direction); ///< "Closing", "Opening"
/// A round arrow with its head in the direction of turning.
void drawTurnArrow(QPainter &painter, const QRectF &where, bool clockwise, const QColor &colour);

} // namespace keyround
