// SPDX-License-Identifier: GPL-3.0-or-later
// Keeps what is half-typed (a stop, a paper sheet) on disk: saves at every change, and says "saved"
// only afterwards. A save on a sound disk takes a few milliseconds and is made at once. When one
// took longer than 50 ms the next changes are gathered, so that a slow disk never stands in the way
// of counting; until they are on disk the state is Saving, never Saved.
#pragma once

#include "core/common/result.h"

#include <QObject>
#include <QTimer>

#include <functional>

namespace keyround {

class DraftKeeper final : public QObject
{
    Q_OBJECT
public:
    enum class State { Nothing, Saving, Saved, Failed };

    /// `save` stores what stands now and returns once it is on disk.
    explicit DraftKeeper(std::function<Status()> save, QObject *parent = nullptr);

    /// Something changed: save it.
    void changed();
    /// Saves what is waiting.
    void flush();
    /// Nothing is to be saved any more (recorded, or another stop): what waits is forgotten.
    void reset(State state = State::Nothing);

    [[nodiscard]] State state() const { return m_state; }
    [[nodiscard]] QString failure() const { return m_failure; }
    [[nodiscard]] qint64 lastSaveMilliseconds() const { return m_lastMilliseconds; }

Q_SIGNALS:
    void stateChanged();
    void failed(const QString &why); ///< once for each run of failures

private:
    void saveNow();
    void setState(State state);

    std::function<Status()> m_save;
    QTimer m_wait;
    State m_state = State::Nothing;
    QString m_failure;
    qint64 m_lastMilliseconds = 0;
};

} // namespace keyround
