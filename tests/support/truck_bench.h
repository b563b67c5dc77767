// SPDX-License-Identifier: GPL-3.0-or-later
// The Truck set up for a test: the small town, a round of today, the place in a window, and hands
// that press and click.
#pragma once

#include "app/commands/round_commands.h"
#include "app/shell/style.h"
#include "app/truck/truck_place.h"
#include "core/storage/round_store.h"
#include "tests/support/test_town.h"

#include <QAbstractButton>
#include <QApplication>
#include <QFileInfo>
#include <QLabel>
#include <QLineEdit>
#include <QTest>

namespace keyround {

/// For tests that are not about what is on the disk: their many saves cost nothing there.
inline void keepProjectsInMemory()
{
    const QString memory = QStringLiteral("/dev/shm");
    if (QFileInfo(memory).isWritable()) {
        qputenv("TMPDIR", memory.toLocal8Bit());
    }
}

class TruckBench
{
public:
    explicit TruckBench(const QSize &size = {1366, 680})
        : session(smallTownClock()), town(makeSmallTown(session))
    {
        m_size = size;
    }

    /// A round of today with these valves.
    RoundId addRound(const QStringList &numbers)
    {
        Round round;
        round.id = RoundId{newUuid7(session.now().utcMilliseconds)};
        round.date = session.today();
        round.crew = QStringLiteral("Crew 1");
        for (const QString &number : numbers) {
            round.stops.push_back(session.valveByNumber(number)->id);
        }
        const Status stored = session.project().rounds().put(round);
        if (!stored) {
            qFatal("no round: %s", qPrintable(stored.error().message));
        }
        Q_EMIT session.notifier().roundsChanged();
        return round.id;
    }

    void show()
    {
        place = std::make_unique<TruckPlace>(session);
        place->resize(m_size);
        place->show();
        place->activateWindow();
        QVERIFY(QTest::qWaitForWindowActive(place.get()));
    }

    QSize size() const { return m_size; }

    template <typename T = QWidget> T *find(const char *name) const
    {
        return place->findChild<T *>(QLatin1String(name));
    }
    QString text(const char *name) const { return find<QLabel>(name)->text(); }
    bool shows(const char *name) const
    {
        const QWidget *widget = find(name);
        return widget != nullptr && widget->isVisible();
    }
    void click(const char *name) const
    {
        QWidget *target = find(name);
        QVERIFY2(target != nullptr && target->isVisible(), name);
        QTest::mouseClick(target, Qt::LeftButton);
    }
    static void key(Qt::Key key, Qt::KeyboardModifiers modifiers = Qt::NoModifier)
    {
        QVERIFY(QApplication::focusWidget() != nullptr);
        QTest::keyClick(QApplication::focusWidget(), key, modifiers);
    }
    static void type(const char *text)
    {
        QVERIFY(QApplication::focusWidget() != nullptr);
        QTest::keyClicks(QApplication::focusWidget(), QLatin1String(text));
    }
    static QString focus()
    {
        return QApplication::focusWidget() != nullptr ? QApplication::focusWidget()->objectName()
                                                      : QString();
    }
    const ValveHistory &history(const char *number)
    {
        return session.history(session.valveByNumber(QLatin1String(number))->id);
    }

    Session session;
    std::unique_ptr<SmallTown> town;
    std::unique_ptr<TruckPlace> place;

private:
    QSize m_size;
};

/// From the choice of rounds to the counting of its first stop, by keys.
inline void goToCounting()
{
    TruckBench::key(Qt::Key_Return); // the round
    TruckBench::key(Qt::Key_Return); // at the valve
    TruckBench::key(Qt::Key_Return); // the work zone is asked about later
    TruckBench::key(Qt::Key_1);      // found open
    TruckBench::key(Qt::Key_Return);
}

/// From the counting to the last question.
inline void goToFinish(Qt::Key left)
{
    TruckBench::key(Qt::Key_Return); // judge
    TruckBench::key(Qt::Key_Return); // problems
    TruckBench::key(Qt::Key_Return); // leave
    TruckBench::key(left);
    TruckBench::key(Qt::Key_Return);
}

inline void countByKey(int turns)
{
    for (int turn = 0; turn < turns; ++turn) {
        TruckBench::key(Qt::Key_Space);
    }
}

} // namespace keyround
