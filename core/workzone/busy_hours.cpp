// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/busy_hours.h"

#include <QStringList>

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

namespace keyround {

namespace {

constexpr int endOfDay = 24 * 3600 - 1; // the day's last second, as QTime has it

/// A street's name as names are compared: case and spaces do not count.
QString nameKey(const QString &name)
{
    return name.simplified().toCaseFolded();
}

/// Seconds of the day, both ends included; empty for a rule that closes nothing.
std::optional<std::pair<int, int>> closedSeconds(const BusyHours &rule)
{
    if (!rule.from.isValid() || !rule.to.isValid()) {
        return {};
    }
    const int from = rule.from.msecsSinceStartOfDay() / 1000;
    int to = rule.to.msecsSinceStartOfDay() / 1000;
    if (to == 0 || rule.to.hour() * 60 + rule.to.minute() == 24 * 60 - 1) {
        to = endOfDay; // 00:00 and 23:59 both mean midnight here
    }
    if (from >= to) {
        return {};
    }
    return std::pair{from, to};
}

bool holdsOn(const BusyHours &rule, const QDate &date)
{
    return (rule.weekdays.isEmpty() || rule.weekdays.contains(date.dayOfWeek())) &&
           closedSeconds(rule).has_value();
}

std::vector<BusyHours> rulesFor(const std::vector<BusyHours> &rules, const QString &street,
                                StreetClass kind, const QDate &date)
{
    std::vector<BusyHours> byName;
    std::vector<BusyHours> byClass;
    const QString name = nameKey(street);
    for (const BusyHours &rule : rules) {
        if (!holdsOn(rule, date)) {
            continue;
        }
        const QString wanted = nameKey(rule.street);
        if (wanted.isEmpty()) {
            if (rule.classes.isEmpty() || rule.classes.contains(kind)) {
                byClass.push_back(rule);
            }
        } else if (wanted == name) {
            byName.push_back(rule);
        }
    }
    return byName.empty() ? byClass : byName;
}

QString listWords(const QStringList &words)
{
    if (words.size() < 2) {
        return words.join(QString());
    }
    return words.mid(0, words.size() - 1).join(QStringLiteral(", ")) + QStringLiteral(" and ") +
           words.last();
}

QString weekdayWords(const QList<int> &weekdays)
{
    static const std::array<QString, 7> names{
        QStringLiteral("Monday"),   QStringLiteral("Tuesday"), QStringLiteral("Wednesday"),
        QStringLiteral("Thursday"), QStringLiteral("Friday"),  QStringLiteral("Saturday"),
        QStringLiteral("Sunday")};
    std::array<bool, 7> named{};
    for (const int day : weekdays) {
        if (day >= 1 && day <= 7) {
            named[static_cast<std::size_t>(day - 1)] = true;
        }
    }
    if (weekdays.isEmpty() || std::all_of(named.begin(), named.end(), [](bool is) { return is; })) {
        return QStringLiteral("every day");
    }
    QStringList parts;
    for (std::size_t first = 0; first < named.size(); ++first) {
        if (!named[first]) {
            continue;
        }
        std::size_t last = first;
        while (last + 1 < named.size() && named[last + 1]) {
            ++last;
        }
        if (last >= first + 2) {
            parts << QStringLiteral("%1 to %2").arg(names[first], names[last]);
        } else {
            parts << names[first];
            if (last > first) {
                parts << names[last];
            }
        }
        first = last;
    }
    return listWords(parts);
}

QString streetWords(const BusyHours &rule)
{
    if (!nameKey(rule.street).isEmpty()) {
        return rule.street.simplified();
    }
    if (rule.classes.isEmpty()) {
        return QStringLiteral("every street");
    }
    QStringList kinds;
    for (const StreetClass kind : rule.classes) {
        kinds << wordFor(kind);
    }
    return QStringLiteral("streets of class %1").arg(listWords(kinds));
}

QString clockWords(const QTime &time)
{
    return time.toString(QStringLiteral("HH:mm"));
}

} // namespace

WorkHours workHours(const std::vector<BusyHours> &rules, const QString &street, StreetClass kind,
                    const QDate &date)
{
    WorkHours hours;
    hours.closedBy = rulesFor(rules, street, kind, date);
    std::vector<std::pair<int, int>> closed;
    for (const BusyHours &rule : hours.closedBy) {
        closed.push_back(*closedSeconds(rule));
    }
    std::sort(closed.begin(), closed.end());
    const auto open = [&](int from, int to) {
        if (from < to) {
            hours.open.push_back({QTime::fromMSecsSinceStartOfDay(from * 1000),
                                  QTime::fromMSecsSinceStartOfDay(to * 1000)});
        }
    };
    int free = 0;
    for (const auto &[from, to] : closed) {
        open(free, from);
        free = std::max(free, to);
    }
    open(free, endOfDay);
    return hours;
}

QString wordsFor(const BusyHours &rule)
{
    const QString words = QStringLiteral("%1-%2 on %3, %4")
                              .arg(clockWords(rule.from), clockWords(rule.to), streetWords(rule),
                                   weekdayWords(rule.weekdays));
    const QString why = rule.why.simplified();
    return why.isEmpty() ? words : QStringLiteral("%1 (%2)").arg(words, why);
}

} // namespace keyround
