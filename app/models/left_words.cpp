// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/left_words.h"

#include "core/reports/valve_words.h"

#include <QObject>

#include <algorithm>

namespace keyround {

namespace {

/// Who put the key to it: the crew, and the person who recorded it where that is another name.
QString whoLeft(const Visit &visit)
{
    return visit.recordedBy.isEmpty() ? visit.crew : visit.recordedBy;
}

} // namespace

const ReadVisit *lastSeenLeft(const ValveHistory &history)
{
    const auto found =
        std::find_if(history.visits.rbegin(), history.visits.rend(), [](const ReadVisit &read) {
            return read.visit.left.position != Position::NotSeen;
        });
    return found == history.visits.rend() ? nullptr : &*found;
}

QString leftOtherWords(const Valve &valve, const ValveHistory &history)
{
    const ReadVisit *last = lastSeenLeft(history);
    if (!history.leftOtherThanNormal || last == nullptr) {
        return {};
    }
    const QDateTime at =
        last->visit.finished.isNull() ? last->visit.arrived.local() : last->visit.finished.local();
    return QObject::tr("Left %1 by %2 on %3 at %4; normally %5.")
        .arg(standingWords(*history.leftOtherThanNormal), whoLeft(last->visit),
             at.date().toString(Qt::ISODate), at.time().toString(QStringLiteral("HH:mm")),
             wordFor(valve.normally));
}

QString leftOtherShort(const ValveHistory &history)
{
    const ReadVisit *last = lastSeenLeft(history);
    if (!history.leftOtherThanNormal || last == nullptr) {
        return {};
    }
    const QDateTime at =
        last->visit.finished.isNull() ? last->visit.arrived.local() : last->visit.finished.local();
    return QStringLiteral("%1, %2, %3")
        .arg(wordFor(history.leftOtherThanNormal->position), whoLeft(last->visit),
             at.toString(QStringLiteral("yyyy-MM-dd HH:mm")));
}

} // namespace keyround
