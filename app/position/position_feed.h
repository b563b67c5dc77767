// SPDX-License-Identifier: GPL-3.0-or-later
// Where the laptop is: a serial NMEA 0183 receiver, a recorded log of one, or what the system
// knows. One for the whole program (Session::positions()); off until it is started.
//
// current() is a fix of the last seconds or nothing: a lost or old fix is never handed out as where
// one is. last() keeps it, to be shown with its age.
#pragma once

#include "app/position/position_habits.h"
#include "core/common/clock.h"
#include "core/fieldlog/fix_track.h"

#include <QObject>

#include <deque>
#include <functional>
#include <memory>

namespace keyround {

/// A line that arrived, as the settings page shows it.
struct HeardLine
{
    QString text;
    QString outcome;        ///< "taken", "wrong checksum: ...", "says it has no fix"
    bool isRefused = false; ///< not a sound sentence
};

class PositionFeed final : public QObject
{
    Q_OBJECT
public:
    explicit PositionFeed(std::function<Moment()> now, QObject *parent = nullptr);
    ~PositionFeed() override;

    /// Leaves what it listened to and listens to this; what was last heard is forgotten.
    void start(const PositionHabits &habits);
    void stop();
    [[nodiscard]] const PositionHabits &habits() const;

    [[nodiscard]] FixState state() const;
    [[nodiscard]] std::optional<PositionFix> current() const; ///< only in FixState::Current
    [[nodiscard]] std::optional<PositionFix> last() const;
    [[nodiscard]] std::optional<Seconds> age() const; ///< of the last fix
    /// Why no sentences come, and what to do; empty when they do.
    [[nodiscard]] QString trouble() const;
    /// One line for the screen: source, quality, age, or what is missing.
    [[nodiscard]] QString words(UnitSystem units) const;

    /// The newest lines, newest last, and how many there were since the start.
    [[nodiscard]] const std::deque<HeardLine> &heard() const;
    [[nodiscard]] int soundCount() const;
    [[nodiscard]] int refusedCount() const;

    /// A fix handed in from elsewhere: it counts as arrived now.
    void give(PositionFix fix);
    /// Takes a line as if it had arrived.
    void takeLine(const QByteArray &line);

    /// Replaces the clock that ages are counted on (milliseconds); for tests.
    void setSteadyClock(std::function<std::int64_t()> steady);

Q_SIGNALS:
    void changed(); ///< a fix came, or the state or its age changed: at most a few times a second
    void lineHeard();

private:
    class Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
