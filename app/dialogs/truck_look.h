// SPDX-License-Identifier: GPL-3.0-or-later
// What everything in the Truck is sized by: targets of 20 mm with 3 mm between them, and capitals
// of 3.8 mm, which read at 600 mm (20 minutes of arc or more; ISO 9241-3 asks for 16). Real
// millimetres, from the screen or from its calibration. Text is ink on paper or card, or white on
// water or danger: 7:1 or better, all of it.
#pragma once

#include "core/fieldlog/visit.h"
#include "core/inventory/valve.h"

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
