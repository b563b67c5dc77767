// SPDX-License-Identifier: GPL-3.0-or-later
// What tests of the Office share: finding its parts, clicking in its picture, reading its answer.
#pragma once

#include "app/charts/chart.h"
#include "app/models/data_table.h"
#include "app/office/choice_button.h"
#include "app/office/office_place.h"
#include "tests/support/by_name.h"

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTest>

#include <memory>

namespace keyround {

inline void press(QWidget &place, const char *name)
{
    QTest::mouseClick(named<QPushButton>(place, name), Qt::LeftButton);
}

[[nodiscard]] inline QString sentence(QWidget &place)
{
    return named<QLabel>(place, "answer")->text();
}

/// The chart of the answer: the valve's page has one too.
[[nodiscard]] inline Chart *answerChart(QWidget &place)
{
    for (Chart *chart : place.findChildren<Chart *>()) {
        if (chart->isVisible()) {
            return chart;
        }
    }
    return place.findChild<Chart *>();
}

/// The table of the question that is asked.
[[nodiscard]] inline DataTable *valvesBehind(QWidget &place)
{
    for (DataTable *table : place.findChildren<DataTable *>(QStringLiteral("valvesBehind"))) {
        if (table->isVisible()) {
            return table;
        }
    }
    qFatal("no table of valves is shown");
    return nullptr;
}

[[nodiscard]] inline QStringList numbersShown(QWidget &place)
{
    QStringList numbers;
    const auto lines = valvesBehind(place)->shownText();
    for (qsizetype i = 1; i < lines.size(); ++i) {
        numbers << lines[i].first();
    }
    return numbers;
}

inline void tick(QWidget &place, const char *name, const QString &words)
{
    auto *choice = named<ChoiceButton>(place, name);
    QTest::mouseClick(choice, Qt::LeftButton);
    const auto items = choice->list()->findItems(words, Qt::MatchExactly);
    QCOMPARE(items.size(), 1);
    QTest::mouseClick(choice->list()->viewport(), Qt::LeftButton, {},
                      choice->list()->visualItemRect(items.first()).center());
    choice->list()->window()->hide();
}

/// Another of the question's pictures, as by hand.
inline void choosePicture(QWidget &place, int view)
{
    auto *views = named<QComboBox>(place, "pictureChoice");
    views->setCurrentIndex(view);
    Q_EMIT views->activated(view);
}

inline void clickItem(Chart &chart, int item)
{
    const QPoint at = chart.placeOf(item);
    QWidget *plot = chart.childAt(at);
    if (plot == nullptr) {
        qFatal("the item is not on the chart");
    }
    QTest::mouseClick(plot, Qt::LeftButton, {}, plot->mapFrom(&chart, at));
}

[[nodiscard]] inline std::unique_ptr<OfficePlace> shownOffice(Session &session,
                                                              const QSize &size = {1366, 660})
{
    auto office = std::make_unique<OfficePlace>(session);
    office->resize(size);
    office->show();
    if (!QTest::qWaitForWindowExposed(office.get())) {
        qFatal("the window does not show");
    }
    return office;
}

} // namespace keyround
