// SPDX-License-Identifier: GPL-3.0-or-later
// The Yard on the screen over the small invented town, for tests that click, drag and type in it.
#pragma once

#include "app/dialogs/valve_card.h"
#include "app/models/data_table.h"
#include "app/yard/day_ribbon.h"
#include "app/yard/side_column.h"
#include "app/yard/yard_place.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QLabel>
#include <QMouseEvent>
#include <QPushButton>
#include <QSettings>
#include <QTableView>
#include <QTest>
#include <QToolButton>

namespace keyround {

struct Yard
{
    Session session{smallTownClock()};
    std::unique_ptr<SmallTown> town;
    std::unique_ptr<YardPlace> place;
    QStringList failures;

    explicit Yard(bool filled = true, const QSize &size = {1366, 768})
    {
        QSettings().clear(); // no table or splitter arranged by the test before
        session.setPerson(QStringLiteral("T. Invented"));
        if (filled) {
            town = makeSmallTown(session);
        }
        QObject::connect(&session.notifier(), &Notifier::failed, &session,
                         [this](const QString &text) { failures << text; });
        place = std::make_unique<YardPlace>(session);
        place->resize(size);
        place->show();
        QApplication::setActiveWindow(place.get());
        [[maybe_unused]] const bool shown = QTest::qWaitForWindowExposed(place.get());
    }

    template <typename Widget> Widget *find(const char *name) const
    {
        return place->findChild<Widget *>(QString::fromLatin1(name));
    }
    void click(const char *name) const
    {
        auto *button = find<QAbstractButton>(name);
        if (button == nullptr || !button->isVisible() || !button->isEnabled()) {
            qFatal("%s cannot be clicked", name);
        }
        QTest::mouseClick(button, Qt::LeftButton);
    }
    [[nodiscard]] DayRibbon *ribbon() const { return place->findChild<DayRibbon *>(); }
    [[nodiscard]] SideColumn *column() const { return place->findChild<SideColumn *>(); }
    [[nodiscard]] ValveCard *card() const { return place->findChild<ValveCard *>(); }
    [[nodiscard]] std::vector<ValveId> stops()
    {
        return session.rounds().empty() ? std::vector<ValveId>{} : session.rounds().front().stops;
    }
    [[nodiscard]] QString sentence() const { return find<QLabel>("sentence")->text(); }
    /// Clicks the row of the list in which the valve's number stands.
    bool clickRow(DataTable *table, const QString &number) const
    {
        const QAbstractItemModel *model = table->view()->model();
        for (int row = 0; row < model->rowCount(); ++row) {
            const QModelIndex index = model->index(row, 0);
            if (index.data().toString() == number) {
                table->view()->scrollTo(index);
                QTest::mouseClick(table->view()->viewport(), Qt::LeftButton, {},
                                  table->view()->visualRect(index).center());
                return true;
            }
        }
        return false;
    }
    void picture(const QString &name) const
    {
        QTest::qWait(20);
        QVERIFY(place->grab().save(screenFile(name)));
    }
};

/// A hand that takes what lies at `from`, moves to `to` in steps, and lets go there.
inline void dragTo(QWidget *widget, const QPoint &from, const QPoint &to, bool letGo = true,
                   Qt::KeyboardModifiers keys = {})
{
    QTest::mousePress(widget, Qt::LeftButton, keys, from);
    constexpr int steps = 5;
    for (int step = 1; step <= steps; ++step) {
        const QPoint at = from + (to - from) * step / steps;
        QMouseEvent move(QEvent::MouseMove, at, widget->mapToGlobal(at), Qt::NoButton,
                         Qt::LeftButton, keys);
        QApplication::sendEvent(widget, &move);
    }
    if (letGo) {
        QTest::mouseRelease(widget, Qt::LeftButton, keys, to);
    }
}

} // namespace keyround
