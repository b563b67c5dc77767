// SPDX-License-Identifier: GPL-3.0-or-later
// How a valve stands: open, closed, part open with its turns, not seen. Four large toggles with
// the drawing standards' bow-tie on them (empty: open; filled: closed), keys 1 to 4.
#pragma once

#include "core/fieldlog/visit.h"

#include <QWidget>

#include <array>
#include <optional>

class QKeyEvent;

namespace keyround {

class BigButton;
class TurnsLine;

class StandingChooser final : public QWidget
{
    Q_OBJECT
public:
    /// The prefix names the fields: "found" gives found-open, found-turns and so on.
    explicit StandingChooser(const QString &prefix, QWidget *parent = nullptr);

    void show(const std::optional<Position> &position, const QString &turns);
    [[nodiscard]] QWidget *firstField() const;
    bool takeKey(QKeyEvent *event);

Q_SIGNALS:
    void chosen(Position position);
    void turnsEdited(const QString &text);

private:
    std::array<BigButton *, 4> m_buttons{};
    TurnsLine *m_turns;
};

} // namespace keyround
