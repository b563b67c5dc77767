// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/day_sentence.h"

#include "app/dialogs/typed_values.h"

#include <QObject>

#include <cmath>

namespace keyround {

namespace {

QString tr(const char *text)
{
    return QObject::tr(text);
}

QString drivingWords(const DayPlan &plan, UnitSystem units)
{
    const QString driven = durationText(Seconds{plan.driveSeconds});
    QString words =
        tr("%1 driving, %2 by %3")
            .arg(driven, lengthText(Metres{plan.driveMetres}, units), wordFor(plan.travel));
    if (plan.leastDriveSeconds > 0) {
        const QString least = durationText(Seconds{plan.leastDriveSeconds});
        words += least == driven ? tr("; no order can take less")
                                 : tr("; no order can take less than %1").arg(least);
    }
    return words;
}

QString finishWords(const DayPlan &plan, const Round &round)
{
    const double left = minutesLeft(plan, round);
    const QString back = timeText(plan.finish);
    const QString span = durationText(Seconds{std::abs(left) * 60.0});
    if (plan.overrunsShift || left <= -1.0) {
        return tr("back at %1, %2 past the shift's end at %3")
            .arg(back, span, timeText(round.shift.to));
    }
    return tr("back at %1, %2 before the shift ends").arg(back, span);
}

} // namespace

double minutesLeft(const DayPlan &plan, const Round &round)
{
    return plan.finish.secsTo(round.shift.to) / 60.0;
}

QString daySentence(const DayPlan &plan, const Round &round, UnitSystem units)
{
    if (plan.stops.empty()) {
        return tr("Nothing is planned yet");
    }
    const int count = static_cast<int>(plan.stops.size());
    QStringList parts{count == 1 ? tr("1 stop") : tr("%1 stops").arg(count),
                      drivingWords(plan, units)};
    if (plan.waitSeconds >= 60.0) {
        parts << tr("%1 waiting").arg(durationText(Seconds{plan.waitSeconds}));
    }
    parts << finishWords(plan, round);
    return parts.join(QStringLiteral(" · "));
}

} // namespace keyround
