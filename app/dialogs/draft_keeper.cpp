// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/draft_keeper.h"

#include <QElapsedTimer>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

constexpr qint64 slowMilliseconds = 50;
constexpr int retryMilliseconds = 2000;
/// With a slow disk, saving takes at most a fifth of the time.
constexpr int restShare = 4;
constexpr qint64 longestRestMilliseconds = 3000;

} // namespace

DraftKeeper::DraftKeeper(std::function<Status()> save, QObject *parent)
    : QObject(parent), m_save(std::move(save))
{
    m_wait.setSingleShot(true);
    connect(&m_wait, &QTimer::timeout, this, &DraftKeeper::saveNow);
}

void DraftKeeper::changed()
{
    if (m_state != State::Failed) {
        setState(State::Saving);
    }
    if (m_lastMilliseconds <= slowMilliseconds) {
        saveNow();
    } else if (!m_wait.isActive()) {
        m_wait.start(
            static_cast<int>(std::min(longestRestMilliseconds, m_lastMilliseconds * restShare)));
    }
}

void DraftKeeper::flush()
{
    if (m_state == State::Saving || m_state == State::Failed) {
        saveNow();
    }
}

void DraftKeeper::reset(State state)
{
    m_wait.stop();
    m_failure.clear();
    setState(state);
}

void DraftKeeper::saveNow()
{
    m_wait.stop();
    QElapsedTimer timer;
    timer.start();
    const Status saved = m_save();
    m_lastMilliseconds = timer.elapsed();
    if (saved) {
        m_failure.clear();
        setState(State::Saved);
        return;
    }
    const bool first = m_state != State::Failed;
    m_failure = saved.error().message;
    setState(State::Failed);
    m_wait.start(retryMilliseconds);
    if (first) {
        Q_EMIT failed(m_failure);
    }
}

void DraftKeeper::setState(State state)
{
    if (m_state != state) {
        m_state = state;
        Q_EMIT stateChanged();
    }
}

} // namespace keyround
