// SPDX-License-Identifier: GPL-3.0-or-later
// While something is worked out the cursor says so, and what is clicked meanwhile is dropped.
#include "app/dialogs/wait_shown.h"

#include <QApplication>
#include <QPushButton>
#include <QTest>
#include <QThread>

using namespace keyround;

namespace {

/// A click on the window that is told of when somebody next asks for events.
void clickLater(QPushButton &button)
{
    const auto tell = [&button] {
        const QPointF at(10, 10);
        const QPointF global = button.mapToGlobal(at);
        static int when = 1000;
        when += 1000; // no double click
        qt_handleMouseEvent(button.windowHandle(), at, global, Qt::LeftButton, Qt::LeftButton,
                            QEvent::MouseButtonPress, Qt::NoModifier, when);
        qt_handleMouseEvent(button.windowHandle(), at, global, Qt::NoButton, Qt::LeftButton,
                            QEvent::MouseButtonRelease, Qt::NoModifier, when + 10);
    };
    QMetaObject::invokeMethod(&button, tell, Qt::QueuedConnection);
}

} // namespace

class TestWaitShown : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void clicksOfALongWaitAreDropped()
    {
        QPushButton button;
        button.resize(80, 40);
        button.show();
        QVERIFY(QTest::qWaitForWindowExposed(&button));
        int clicks = 0;
        connect(&button, &QPushButton::clicked, [&clicks] { ++clicks; });

        clickLater(button);
        QCOMPARE(clicks, 0); // it does wait
        QTRY_COMPARE(clicks, 1);
        {
            const WaitShown wait(&button);
            QVERIFY(QApplication::overrideCursor() != nullptr);
            QCOMPARE(QApplication::overrideCursor()->shape(), Qt::WaitCursor);
            QThread::msleep(350);
            clickLater(button);
            clickLater(button);
        }
        QVERIFY(QApplication::overrideCursor() == nullptr);
        QTest::qWait(30);
        QCOMPARE(clicks, 1);
        // A short one drops nothing, and what comes afterwards counts.
        {
            const WaitShown wait(&button);
            clickLater(button);
        }
        QTRY_COMPARE(clicks, 2);
    }
};

QTEST_MAIN(TestWaitShown)
#include "test_wait_shown.moc"
