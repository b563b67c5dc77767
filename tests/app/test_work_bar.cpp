// SPDX-License-Identifier: GPL-3.0-or-later
// Long work lets events through: while it runs nothing but its Stop may react, and no window closes
// under it.
#include "app/dialogs/work_bar.h"

#include <QMainWindow>
#include <QPushButton>
#include <QShortcut>
#include <QTest>
#include <QVBoxLayout>

using namespace keyround;

namespace {

constexpr int patience = 50; // more than the bar waits between two looks at the events

} // namespace

class TestWorkBar : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void init();
    void refusesToClose();
    void dropsClicksAndKeys();
    void stopsByItsButton();
    void stopsByEscape();
    void shortWorkShowsNoBar();

private:
    std::unique_ptr<QMainWindow> m_window;
    QPushButton *m_other = nullptr;
    WorkBar *m_bar = nullptr;
    int m_clicks = 0;
};

void TestWorkBar::init()
{
    m_clicks = 0;
    m_window = std::make_unique<QMainWindow>();
    auto *page = new QWidget;
    auto *column = new QVBoxLayout(page);
    m_other = new QPushButton(QStringLiteral("Close the project"), page);
    m_bar = new WorkBar(page);
    column->addWidget(m_other);
    column->addWidget(m_bar);
    m_window->setCentralWidget(page);
    connect(m_other, &QPushButton::clicked, this, [this] { ++m_clicks; });
    auto *shortcut = new QShortcut(QKeySequence(Qt::CTRL | Qt::Key_I), m_window.get());
    connect(shortcut, &QShortcut::activated, this, [this] { ++m_clicks; });
    m_window->show();
    m_window->activateWindow();
    QVERIFY(QTest::qWaitForWindowActive(m_window.get()));
}

void TestWorkBar::refusesToClose()
{
    QWidget dialog(m_window.get(), Qt::Dialog);
    dialog.show();
    const bool ended = m_bar->run({}, [&](const Progress &progress) {
        const bool closed = m_window->close() || dialog.close();
        const bool refused =
            m_bar->findChild<QWidget *>(QStringLiteral("workRefusal"))->isVisible();
        return !closed && refused && progress(0.5, QStringLiteral("Half way"));
    });
    QVERIFY(ended);
    QVERIFY(m_window->isVisible());
    QVERIFY(dialog.isVisible());
    // When the work is done, windows close as ever.
    QVERIFY(dialog.close());
    QVERIFY(m_window->close());
}

void TestWorkBar::dropsClicksAndKeys()
{
    const bool ended = m_bar->run({}, [&](const Progress &progress) {
        QTest::mouseClick(m_other, Qt::LeftButton);
        QTest::keyClick(m_other, Qt::Key_Space);
        QTest::keyClick(m_window.get(), Qt::Key_I, Qt::ControlModifier);
        return progress(0.5, QStringLiteral("Half way"));
    });
    QVERIFY(ended);
    QCOMPARE(m_clicks, 0);
    // The same three count when no work runs: the test could see them.
    QTest::mouseClick(m_other, Qt::LeftButton);
    QTest::keyClick(m_other, Qt::Key_Space);
    QTest::keyClick(m_window.get(), Qt::Key_I, Qt::ControlModifier);
    QCOMPARE(m_clicks, 3);
}

void TestWorkBar::stopsByItsButton()
{
    const bool goesOn = m_bar->run({}, [&](const Progress &progress) {
        QTest::qSleep(patience);
        const bool before = progress(0.1, QStringLiteral("Begun"));
        QTest::mouseClick(m_bar->findChild<QPushButton *>(QStringLiteral("workStop")),
                          Qt::LeftButton);
        return !before || progress(0.2, QStringLiteral("Going on"));
    });
    QVERIFY(!goesOn);
    // The next work is not stopped by the last one's button.
    QVERIFY(m_bar->run({}, [](const Progress &progress) { return progress(0.1, QString()); }));
}

void TestWorkBar::stopsByEscape()
{
    const bool goesOn = m_bar->run({}, [&](const Progress &progress) {
        QTest::keyClick(m_window.get(), Qt::Key_Escape);
        return progress(0.2, QStringLiteral("Going on"));
    });
    QVERIFY(!goesOn);
}

void TestWorkBar::shortWorkShowsNoBar()
{
    WorkBar patient(m_window->centralWidget(), 60'000);
    m_window->centralWidget()->layout()->addWidget(&patient);
    QVERIFY(patient.run({m_other}, [&](const Progress &progress) {
        const bool goesOn = progress(0.5, QStringLiteral("Half way"));
        return goesOn && !patient.isVisible() && m_other->isEnabled();
    }));
    WorkBar impatient(m_window->centralWidget(), 1);
    m_window->centralWidget()->layout()->addWidget(&impatient);
    QVERIFY(impatient.run({m_other}, [&](const Progress &progress) {
        QTest::qSleep(patience);
        const bool goesOn = progress(0.5, QStringLiteral("Half way"));
        return goesOn && impatient.isVisible() && !m_other->isEnabled();
    }));
    QVERIFY(!impatient.isVisible() && m_other->isEnabled());
}

QTEST_MAIN(TestWorkBar)
#include "test_work_bar.moc"
