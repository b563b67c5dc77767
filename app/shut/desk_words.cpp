// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/desk_words.h"

#include "app/shut/shut_desk.h"

namespace keyround {

QString checkedWords(const QString &number)
{
    return QObject::tr("Valve %1 was looked at: it is closed.").arg(number);
}

QString listed(QStringList numbers)
{
    if (numbers.size() < 2) {
        return numbers.join(QString());
    }
    const QString last = numbers.takeLast();
    return QObject::tr("%1 and %2").arg(numbers.join(QStringLiteral(", ")), last);
}

QString numberOf(Session &session, const ValveId &id)
{
    const Valve *valve = session.valve(id);
    return valve != nullptr ? valve->number : QObject::tr("(no longer in the inventory)");
}

QStringList numbersOf(Session &session, const std::vector<ValveId> &ids)
{
    QStringList numbers;
    for (const ValveId &id : ids) {
        numbers << numberOf(session, id);
    }
    return numbers;
}

QString wordFor(ShutRow::Part part)
{
    switch (part) {
    case ShutRow::Part::Close:
        return QObject::tr("Close");
    case ShutRow::Part::CloseDeadSide:
        return QObject::tr("Close against drain-back");
    case ShutRow::Part::AlreadyClosed:
        return QObject::tr("Stands closed");
    case ShutRow::Part::PassedOver:
        return QObject::tr("Passed over");
    case ShutRow::Part::NotNeeded:
        break;
    }
    return QObject::tr("No longer needed");
}

QString wordFor(ShutRow::State state)
{
    switch (state) {
    case ShutRow::State::Waiting:
        return QObject::tr("to do");
    case ShutRow::State::Closed:
        return QObject::tr("closed");
    case ShutRow::State::DoesNotHold:
        return QObject::tr("does not hold");
    case ShutRow::State::Reopened:
        return QObject::tr("reopened");
    case ShutRow::State::Checked:
        break;
    }
    return QObject::tr("looked at: closed");
}

QString standingWords(Session &session, const ShutLog &log)
{
    const ShutStanding standing = standingOf(log);
    QStringList parts;
    if (standing.closed.empty()) {
        parts << QObject::tr("no valve closed");
    } else {
        QStringList numbers = numbersOf(session, standing.closed);
        constexpr qsizetype shown = 6;
        const qsizetype more = numbers.size() - shown;
        numbers = numbers.mid(0, shown);
        parts << QObject::tr("%1 closed: %2%3")
                     .arg(standing.closed.size() == 1
                              ? QObject::tr("1 valve")
                              : QObject::tr("%1 valves").arg(standing.closed.size()),
                          numbers.join(QStringLiteral(", ")),
                          more > 0 ? QObject::tr(" and %1 more").arg(more) : QString());
    }
    if (!standing.didNotHold.isEmpty()) {
        parts << (standing.didNotHold.size() == 1
                      ? QObject::tr("1 does not hold")
                      : QObject::tr("%1 do not hold").arg(standing.didNotHold.size()));
    }
    if (standing.isEnded) {
        parts << QObject::tr("ended");
    }
    return parts.join(QStringLiteral("; "));
}

} // namespace keyround
