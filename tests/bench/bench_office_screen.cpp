// SPDX-License-Identifier: GPL-3.0-or-later
// bench_office_screen PROJECT.keyround: the Office's screen on a large project (bench_office --keep
// makes one of 50,000 valves and 1,000,000 visits): how long each question takes to be answered on
// the screen when it is first asked, when it is asked again, and when something is chosen in its
// picture. Goals: the first answer in 3 s, any other in 1 s. Run with QT_QPA_PLATFORM=offscreen.
#include "app/charts/chart.h"
#include "app/office/office_place.h"
#include "app/office/questions.h"
#include "app/shell/session.h"
#include "app/shell/style.h"
#include "tests/bench/timing.h"

#include <QApplication>
#include <QPushButton>

#include <cstdio>

using namespace keyround;

namespace {

void tell(const QString &what, const bench::Taken &taken)
{
    std::printf("%-52s %7.0f ms wall, %7.0f ms processor\n", qPrintable(what), taken.wall,
                taken.processor);
    std::fflush(stdout);
}

Chart *shownChart(QWidget &place)
{
    for (Chart *chart : place.findChildren<Chart *>()) {
        if (chart->isVisible()) {
            return chart;
        }
    }
    return nullptr;
}

} // namespace

int main(int count, char **arguments)
{
    QApplication application(count, arguments);
    applyLook(application);
    if (count < 2) {
        std::fprintf(stderr, "usage: bench_office_screen PROJECT.keyround\n");
        return 1;
    }
    Session session;
    if (const Status opened = session.openProject(QString::fromLocal8Bit(arguments[1])); !opened) {
        std::fprintf(stderr, "%s\n", qPrintable(opened.error().message));
        return 1;
    }
    tell(QStringLiteral("valves, visits and histories read"),
         bench::medianTaken(1, [&] { (void)session.histories(); }));
    OfficePlace office(session);
    office.resize(1366, 700);
    tell(QStringLiteral("the Office shown"), bench::medianTaken(1, [&] {
             office.show();
             office.grab();
         }));
    for (int i = 0; i < questionCount; ++i) {
        const auto question = static_cast<Question>(i);
        QString key = keyFor(question);
        key[0] = key[0].toUpper();
        auto *button = office.findChild<QPushButton *>(QStringLiteral("ask") + key);
        const auto ask = [&] {
            button->click();
            office.grab();
        };
        tell(wordFor(question) + QStringLiteral(" first"), bench::medianTaken(1, ask));
        tell(wordFor(question) + QStringLiteral(" again"), bench::medianTaken(3, ask));
        Chart *chart = shownChart(office);
        if (chart != nullptr && !chart->picture().items.empty()) {
            tell(wordFor(question) + QStringLiteral(" a choice in it"), bench::medianTaken(1, [&] {
                     Q_EMIT chart->itemClicked(static_cast<int>(chart->picture().items.size()) / 2);
                     office.grab();
                 }));
        }
    }
    return 0;
}
